"""Job folders under kills, two servers, links, narrow modes and disks that refuse."""

import errno
import os
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from coldwright.durable import held, write_whole
from coldwright.errors import BadInput
from coldwright.plain_file import read_plain
from coldwright.readings.jobfile import JobFile, load_job
from coldwright.web.shelf import FolderShelf

TEXT = 'title = "Hall"\n\n[plate]\nkind = "compact"\n\n[readings]\n'
# More of both by `COLDWRIGHT_STRESS=20 pytest tests/storage`
MUCH = int(os.environ.get("COLDWRIGHT_STRESS", "1"))

# Each edit is confirmed on standard output once it is kept.
WRITER = """
import sys
from pathlib import Path
from coldwright.web.shelf import FolderShelf
folder, who, count = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
shelf = FolderShelf(folder, folder)
for n in range(count):
    step = ("drier_joint", "bubble_test", 1000.0 * who + n, False)
    shelf.change("hall", lambda file: file.add_tried(*step))
    print(1000 * who + n, flush=True)
"""


@pytest.fixture
def shelf(tmp_path: Path) -> FolderShelf:
    """One job in a folder."""
    (tmp_path / "hall.toml").write_text(TEXT, encoding="utf-8")
    return FolderShelf(tmp_path, tmp_path)


def writer(folder: Path, who: int, count: int) -> subprocess.Popen:
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(folder), str(who), str(count)],
        stdout=subprocess.PIPE, text=True,
    )  # fmt: skip


def kept(folder: Path) -> set[int]:
    return {round(step.minutes) for step in load_job(folder / "hall.toml").tried}


@pytest.mark.slow
@pytest.mark.usefixtures("shelf")
def test_two_servers_on_one_folder_lose_nothing(tmp_path):
    count = 40 * MUCH
    both = [writer(tmp_path, who, count) for who in (1, 2)]
    confirmed = {int(n) for one in both for n in one.communicate()[0].split()}
    assert len(confirmed) == 2 * count
    assert kept(tmp_path) == confirmed


@pytest.mark.slow
@pytest.mark.usefixtures("shelf")
def test_a_kill_while_editing_loses_nothing_that_was_confirmed(tmp_path):
    confirmed: set[int] = set()
    for who in range(1, 1 + 6 * MUCH):
        one = writer(tmp_path, who, 900)
        assert one.stdout is not None
        confirmed.add(int(one.stdout.readline()))
        time.sleep(0.003 * (who % 7))
        one.send_signal(signal.SIGKILL)
        confirmed |= {int(n) for n in one.communicate()[0].split()}
        assert confirmed <= kept(tmp_path)
    for stray in tmp_path.glob(".*.half"):
        os.utime(stray, (0, 0))
    FolderShelf(tmp_path, tmp_path)
    assert {p.name for p in tmp_path.iterdir()} <= {"hall.toml", ".lock"}


@pytest.mark.parametrize("umask", [0o077, 0o022, 0o027])
def test_new_files_follow_the_umask_and_old_ones_keep_their_mode(tmp_path, umask):
    before = os.umask(umask)
    try:
        write_whole(tmp_path / "new", b"1")
        (tmp_path / "old").write_bytes(b"1")
        (tmp_path / "old").chmod(0o640)
        write_whole(tmp_path / "old", b"2")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o666 & ~umask
    assert stat.S_IMODE((tmp_path / "old").stat().st_mode) == 0o640


def test_editing_a_linked_job_keeps_the_link(tmp_path):
    own, away = tmp_path / "own", tmp_path / "away"
    own.mkdir()
    away.mkdir()
    (away / "real.toml").write_text(TEXT, encoding="utf-8")
    (own / "hall.toml").symlink_to(away / "real.toml")
    FolderShelf(own, own).change("hall", lambda f: f.add_reading("appliance_power", "90 W"))
    assert (own / "hall.toml").is_symlink()
    assert load_job(away / "real.toml").readings[0].value == 90.0
    assert [p.name for p in away.iterdir()] == ["real.toml"]


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EIO, errno.EDQUOT])
def test_a_disk_that_refuses_is_told_and_the_job_is_whole(shelf, tmp_path, monkeypatch, number):
    really = os.fsync

    def refuse(_):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(BadInput, match="can be written"):
        shelf.change("hall", lambda f: f.add_reading("appliance_power", "90 W"))
    with pytest.raises(BadInput, match="can be written"):
        shelf.keep_log("hall", b"time [min],freezer_temperature [\xc2\xb0C]\n0,-18\n1,-18\n")
    monkeypatch.setattr(os, "fsync", really)
    assert (tmp_path / "hall.toml").read_text(encoding="utf-8") == TEXT
    assert {p.name for p in tmp_path.iterdir()} <= {"hall.toml", ".lock"}


@pytest.mark.skipif(not os.access("/dev/full", os.W_OK), reason="no /dev/full here")
def test_a_full_disk_under_standard_output_is_one_line():
    code = "from coldwright.cli import main; import sys; sys.argv[1:] = ['--help']; main()"
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-c", code],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert "Traceback" not in done.stderr
    assert done.returncode == 2


def test_a_lock_that_is_not_given_back_is_told(tmp_path):
    with held(tmp_path), pytest.raises(TimeoutError, match="another program"), held(tmp_path, 0.05):
        pass


def test_three_long_notes_are_refused_before_they_are_kept(shelf):
    long = "n" * 450_000

    def note(key, value):
        return lambda f: f.add_reading(key, value, note=long)

    shelf.change("hall", note("appliance_power", "90 W"))
    shelf.change("hall", note("shell_temperature", "60 °C"))
    with pytest.raises(BadInput, match="shorter notes"):
        shelf.change("hall", note("suction_line_temperature", "20 °C"))
    assert len(shelf.open("hall").job.readings) == 2


@pytest.mark.parametrize("kind", ["fifo", "device", "endless", "folder", "gone"])
def test_a_job_that_names_no_plain_file_as_its_log_freezes_nothing(tmp_path, kind):
    log = tmp_path / "hall.csv"
    if kind == "fifo":
        os.mkfifo(log)
    elif kind == "device":
        log.symlink_to("/dev/tty")
    elif kind == "endless":
        log.symlink_to("/dev/zero")
    elif kind == "folder":
        log.mkdir()
    text = TEXT.replace("[readings]", '[taken]\nlog = "hall.csv"\n\n[readings]')
    (tmp_path / "hall.toml").write_text(text, encoding="utf-8")
    shelf = FolderShelf(tmp_path, tmp_path)
    begun = time.monotonic()
    file = shelf.change("hall", lambda f: f.add_reading("appliance_power", "90 W"))
    assert shelf.log(file)[1]
    assert time.monotonic() - begun < 5.0


def test_size_is_known_before_anything_is_read(tmp_path):
    big = tmp_path / "big.csv"
    with big.open("wb") as stream:
        stream.truncate(1 << 40)  # a terabyte of nothing
    with pytest.raises(BadInput, match="more than 1 MB"):
        read_plain(big, 1_000_000, "a CSV file")


def test_a_step_asked_out_twice_is_taken_out_once():
    from coldwright.readings.job import tried_identities

    file = JobFile(TEXT, "hall")
    for _ in range(2):
        file.add_tried("drier_joint", "bubble_test", 3.0, False)
    file.add_tried("condenser", "bubble_test", 3.0, False)
    first = tried_identities(file.job.tried)[0]
    file.remove_step(first)
    file.remove_step(first)
    assert [s.place for s in file.job.tried] == ["drier_joint", "condenser"]


def test_a_file_name_with_letters_in_a_locale_without_them(tmp_path):
    name = tmp_path / "café.toml"
    name.write_text('[plate]\nkind = "compact"\n[taken]\nlog = "né.csv"\n', encoding="utf-8")
    (tmp_path / "né.csv").write_text("time [min]\n", encoding="utf-8")
    code = (
        "import sys; from coldwright.cli import main\n"
        "sys.argv[1:] = ['diagnose', sys.argv[1]]\nmain()"
    )
    plain = {k: v for k, v in os.environ.items() if not k.startswith(("LC_", "LANG"))}
    done = subprocess.run(
        [sys.executable, "-c", code, str(name)],
        capture_output=True, check=False,
        env={**plain, "LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"},
    )  # fmt: skip
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
    assert b"head" in done.stderr  # it was read: its head is what is wrong
