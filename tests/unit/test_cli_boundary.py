"""Exit status, one message, no traceback; help brings nothing heavy with it."""

import subprocess
import sys

import pytest
import typer

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.errors import BadInput, NotSolved, OutOfRange, Refused

# numpy is not among them: a fault is a record with its severity law, and naming one needs it.
HEAVY = ("numba", "CoolProp", "scipy", "fastapi", "uvicorn")


def failing(error):
    """An application of one command that fails so."""
    broken = typer.Typer()

    @broken.command()
    def command() -> None:
        raise error

    return broken


@pytest.mark.parametrize(
    "error",
    [
        BadInput("job.toml", "plate.kind", "'fridge'", "one of compact"),
        OutOfRange("bore", 0.0, 1e-4, 5e-3, "m"),
        NotSolved("running state", (1.0, 2.0), 0.1),
        Refused("a variable-speed drive is not modelled", ("windings",)),
        FileNotFoundError(2, "No such file or directory", "gone.toml"),
        PermissionError(13, "Permission denied", "locked.toml"),
    ],
    ids=lambda error: type(error).__name__,
)
def test_an_error_is_one_message_and_status_2(error, capsys):
    assert run(failing(error), []) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert err.startswith("coldwright: ")
    assert "Traceback" not in err
    named = getattr(error, "filename", None) or str(error)
    assert named in err


def test_an_interrupt_stops_quietly(capsys):
    assert run(failing(KeyboardInterrupt()), []) == 130
    assert capsys.readouterr().err.strip() == "coldwright: stopped"


def test_an_error_nobody_foresaw_is_one_line_and_a_report(capsys, tmp_path, monkeypatch):
    monkeypatch.setattr("tempfile.gettempdir", lambda: str(tmp_path))
    assert run(failing(ZeroDivisionError("by nothing")), []) == 70
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert "ZeroDivisionError: by nothing" in err
    (report,) = tmp_path.glob("coldwright-report-*.txt")
    assert str(report) in err
    assert "Traceback" in report.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["frobnicate"], "frobnicate"),
        (["capillary"], "--refrigerant"),
        (["diagnose"], "JOB.toml"),
        (["simulate", "a.toml", "--colour", "red"], "--colour"),
        (["diagnose", "a.toml", "--seed", "many"], "many"),
        (["diagnose", "a.toml", "--members", "3"], "--members"),
        (["diagnose", "a.toml", "--units", "furlong"], "furlong"),
        (["diagnose", "nowhere.toml"], "nowhere.toml"),
        (["simulate", "nowhere.toml"], "nowhere.toml"),
        (["serve", "--port", "70000"], "--port"),
    ],
)
def test_bad_arguments_are_one_message_and_status_2(arguments, named, capsys):
    assert run(app, arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert named in err


@pytest.mark.parametrize("arguments", [[], ["--help"], ["capillary", "--help"]])
def test_help_is_not_an_error(arguments, capsys):
    assert run(app, arguments) == 0
    out, err = capsys.readouterr()
    assert "coldwright" in out
    assert err == ""


def test_help_imports_nothing_heavy():
    code = (
        "import sys\n"
        "from coldwright.cli import app\n"
        "from coldwright.cli.boundary import run\n"
        "status = run(app, ['--help'])\n"
        f"print('LOADED', [name for name in {HEAVY!r} if name in sys.modules], status)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "LOADED [] 0"


def test_a_reader_that_leaves_early_is_no_error():
    code = (
        "import sys\n"
        "import typer\n"
        "from coldwright.cli.boundary import run\n"
        "app = typer.Typer()\n"
        "@app.command()\n"
        "def command() -> None:\n"
        "    print('x' * 1_000_000)\n"
        "sys.exit(run(app, []))\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        process.stdout.read(1)
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait() == 0


def test_a_terminal_without_the_characters_gets_question_marks():
    code = "import sys\nfrom coldwright.cli import app\nfrom coldwright.cli.boundary import run\n"
    code += "sys.exit(run(app, ['capillary', '--refrigerant', 'µ°']))\n"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
        check=False,
    )
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
