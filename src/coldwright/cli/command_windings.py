"""`coldwright windings`: which pin is which, which part is at fault."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.catalogue.unmeasured import usual_frequency
from coldwright.cli.as_json import dumped, plain
from coldwright.cli.options import COMMAND_LINE, choice, quantity, system
from coldwright.cli.windings_text import windings_lines
from coldwright.errors import BadInput, OutOfRange, Refused, one_line
from coldwright.readings.keys import READINGS, REFRIGERANTS
from coldwright.units import Dimension as D
from coldwright.units import show

if TYPE_CHECKING:
    from coldwright.diagnosis.windings_answer import WindingsAnswer
    from coldwright.usecases.windings import WindingsQuestion

NOT_READ = "?"
HEARD = ("silent", "hums")
METALS = ("copper", "aluminium")
_OPEN_OHM = 1e9  # what the word open stands for in `units`
# option, reading whose range holds
_READINGS = {
    "--run": "winding_resistance_run",
    "--start": "winding_resistance_start",
    "--run-to-start": "winding_resistance_run_to_start",
    "--shell": "insulation_resistance",
    "--start-device": "start_device_resistance",
    "--overload": "overload_resistance",
    "--capacitor": "capacitor_share",
    "--supply": "supply_voltage",
    "--starting-current": "starting_current",
    "--running-current": "compressor_current",
}
Text = str | None


def windings(
    between: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[OHM OHM OHM]",
            help='Between unnamed pins 1-2, 1-3, 2-3; "open", or "?" if not read.',
        ),
    ] = None,
    run: Annotated[Text, typer.Option(help="Common to run, where the pins are named.")] = None,
    start: Annotated[Text, typer.Option(help="Common to start.")] = None,
    run_to_start: Annotated[Text, typer.Option(help="Run to start.")] = None,
    shell: Annotated[Text, typer.Option(help='Any pin to the shell, such as "5 Mohm".')] = None,
    start_device: Annotated[Text, typer.Option(help="PTC start device, cold.")] = None,
    overload: Annotated[Text, typer.Option(help="Overload by itself.")] = None,
    capacitor: Annotated[Text, typer.Option(help="Share of its printed value: 84 %.")] = None,
    supply: Annotated[Text, typer.Option(help="Voltage under load.")] = None,
    starting_current: Annotated[Text, typer.Option(help="While it tries to start.")] = None,
    running_current: Annotated[Text, typer.Option(help="Of the running compressor.")] = None,
    plate_voltage: Annotated[str, typer.Option(help="Rated.")] = "230 V",
    plate_current: Annotated[Text, typer.Option(help="Rated.")] = None,
    winding_temperature: Annotated[Text, typer.Option(help="Where it is known.")] = None,
    cold_run: Annotated[Text, typer.Option(help="Run winding when it was cold.")] = None,
    cold_temperature: Annotated[str, typer.Option(help="Its temperature then.")] = "20 °C",
    metal: Annotated[str, typer.Option(help="copper or aluminium.")] = "copper",
    minutes_since_stop: Annotated[Text, typer.Option(help="A hot PTC is no evidence.")] = None,
    heard: Annotated[Text, typer.Option(help="silent, or hums (and trips).")] = None,
    too_soon: Annotated[
        bool, typer.Option("--too-soon", help="Restarted within minutes of a stop.")
    ] = False,
    variable_speed: Annotated[bool, typer.Option("--variable-speed", help="Board-fed.")] = False,
    refrigerant: Annotated[str, typer.Option(help="For the cautions.")] = "unknown",
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Which pin is common, run, start; which electrical part is at fault."""
    chosen = system(units)
    written = dict(
        zip(
            _READINGS,
            (run, start, run_to_start, shell, start_device, overload, capacitor, supply,
             starting_current, running_current),
            strict=True,
        )
    )  # fmt: skip
    read = {o: _reading(o, text) for o, text in written.items() if text is not None}
    pairs = _between(between or [])
    if pairs is not None and {"--run", "--start", "--run-to-start"} & set(read):
        raise BadInput(
            COMMAND_LINE, "OHM, --run", "both", "ohms between unnamed pins, or named ones, not both"
        )
    if pairs is None and not read:
        raise BadInput(COMMAND_LINE, "OHM", "nothing", 'three resistances such as "8.2 ohm"')
    temperatures = {
        "--winding-temperature": winding_temperature,
        "--cold-temperature": cold_temperature,
    }
    kelvin = {o: quantity(o, t, D.TEMPERATURE) for o, t in temperatures.items() if t is not None}
    amps = None if plate_current is None else _above_zero("--plate-current", plate_current)
    cold = None if cold_run is None else _above_zero("--cold-run", cold_run, D.RESISTANCE)
    minutes = None
    if minutes_since_stop is not None:
        minutes = quantity("--minutes-since-stop", minutes_since_stop, D.NUMBER)
    question = _question(
        pairs, read, kelvin,
        volts=_volts(plate_voltage),
        amps=amps, cold=cold, minutes=minutes,
        metal=choice("--metal", metal, METALS),
        heard=None if heard is None else choice("--heard", heard, HEARD),
        too_soon=too_soon,
        variable_speed=variable_speed,
        refrigerant=choice("--refrigerant", refrigerant, REFRIGERANTS),
    )  # fmt: skip
    answer = _answer(question)
    print(dumped(_json(answer)) if as_json else "\n".join(windings_lines(answer, chosen)))


def _answer(question: WindingsQuestion) -> WindingsAnswer:
    from coldwright.usecases.windings import windings_answer

    try:
        return windings_answer(question)
    except OutOfRange as error:
        accepted = f"{error.low:g} to {error.high:g} {error.unit}"
        raise BadInput(COMMAND_LINE, error.quantity, f"{error.value:g}", accepted) from None
    except Refused as refused:
        raise BadInput(
            COMMAND_LINE, "OHM", refused.reason, "; ".join(refused.still_possible)
        ) from None


def _question(
    pairs: tuple[float | None, float | None, float | None] | None,
    read: dict[str, float],
    kelvin: dict[str, float],
    *,
    volts: float,
    amps: float | None,
    cold: float | None,
    minutes: float | None,
    metal: str,
    heard: str | None,
    too_soon: bool,
    variable_speed: bool,
    refrigerant: str,
) -> WindingsQuestion:
    from coldwright.electrical.copper import CONDUCTORS, REFERENCE_K
    from coldwright.electrical.meters import Held, Meters
    from coldwright.usecases.windings import WindingsQuestion

    signs = {"silent": "compressor_silent", "hums": "compressor_hums_and_trips"}
    return WindingsQuestion(
        between=pairs,
        meters=Meters(
            run_ohm=read.get("--run"),
            start_ohm=read.get("--start"),
            run_to_start_ohm=read.get("--run-to-start"),
            insulation_ohm=read.get("--shell"),
            start_device_ohm=read.get("--start-device"),
            overload_ohm=read.get("--overload"),
            capacitor_fraction=read.get("--capacitor"),
            supply_v=read.get("--supply"),
            starting_a=read.get("--starting-current"),
            compressor_a=read.get("--running-current"),
        ),
        held=Held(
            nominal_v=volts,
            frequency_hz=usual_frequency(volts),
            rated_a=math.nan if amps is None else amps,
            winding_k=kelvin.get("--winding-temperature", REFERENCE_K),
            since_stop_min=math.nan if minutes is None else minutes,
            variable_speed=variable_speed,
        ),
        conductor=next(c for c in CONDUCTORS if c.name == metal),
        winding_temperature_known="--winding-temperature" in kelvin,
        cold_run_ohm=math.nan if cold is None else cold,
        cold_k=kelvin["--cold-temperature"],
        heard={signs[h]: True for h in (heard,) if h is not None}
        | ({"restarted_too_soon": True} if too_soon else {}),
        refrigerant=refrigerant,
    )


def _between(texts: list[str]) -> tuple[float | None, float | None, float | None] | None:
    if not texts:
        return None
    if len(texts) != 3:
        raise BadInput(
            COMMAND_LINE, "OHM", f"{len(texts)} resistances",
            "three, between pins 1-2, 1-3 and 2-3; write ? for one that was not read",
        )  # fmt: skip
    first, second, third = (
        None if t.strip() == NOT_READ else _reading(f"OHM {n}", t, "winding_resistance_run")
        for n, t in enumerate(texts, start=1)
    )
    return first, second, third


def _reading(option: str, text: str, key: str = "") -> float:
    """SI value within what the reading of that name allows; infinite where open."""
    known = READINGS[key or _READINGS[option]]
    value = quantity(option, text, known.dimension)
    if not known.low <= value <= known.high:
        low, high = show(known.low, known.dimension), show(known.high, known.dimension)
        also = ", or open" if known.dimension is D.RESISTANCE else ""
        raise BadInput(COMMAND_LINE, option, f"'{one_line(text)}'", f"{low} to {high}{also}")
    return math.inf if known.dimension is D.RESISTANCE and value >= _OPEN_OHM else value


def _above_zero(option: str, text: str, dimension: D = D.CURRENT) -> float:
    value = quantity(option, text, dimension)
    if not 0.0 < value < _OPEN_OHM:
        raise BadInput(COMMAND_LINE, option, f"'{one_line(text)}'", f"{dimension.words} above zero")
    return value


def _volts(text: str) -> float:
    value = quantity("--plate-voltage", text, D.VOLTAGE)
    if not 10.0 <= value <= 500.0:
        raise BadInput(COMMAND_LINE, "--plate-voltage", f"'{one_line(text)}'", "10 V to 500 V")
    return value


def _json(answer: WindingsAnswer) -> dict[str, object]:
    whole = plain(answer)
    assert isinstance(whole, dict)
    return whole
