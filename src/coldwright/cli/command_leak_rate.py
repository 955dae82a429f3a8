"""`coldwright leak rate`: one leak in every unit, and what it does elsewhere."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE, choice, quantity, system
from coldwright.cli.text import capital, items, table, wrapped
from coldwright.errors import BadInput, OutOfRange, one_line
from coldwright.units import Dimension as D
from coldwright.units import System, figures, show

if TYPE_CHECKING:
    from coldwright.leak.rates import LeakRate
    from coldwright.usecases.leak import LeakAnswer

STANDARD_K = 273.15  # sccm counts here whatever basis is asked for


def rate(
    job: Annotated[
        Path | None, typer.Argument(metavar="[JOB.toml]", help="Plate, loss and time from a job.")
    ] = None,
    refrigerant: Annotated[str | None, typer.Option(help="R134a, R600a, R12, R290, R22.")] = None,
    rate_text: Annotated[
        str | None,
        typer.Option("--rate", help='Such as "5 g/yr", "3.8e-5 mbar·l/s" or "1e-4 atm·cc/s".'),
    ] = None,
    lost: Annotated[str | None, typer.Option(help='Mass missing, such as "60 g".')] = None,
    over: Annotated[str | None, typer.Option(help='Since it was well, such as "14 month".')] = None,
    charge: Annotated[str | None, typer.Option(help="When complete, such as 140 g.")] = None,
    left: Annotated[str | None, typer.Option(help="Mass left or recovered.")] = None,
    side: Annotated[str, typer.Option(help="high_side or low_side, where it leaks.")] = "high_side",
    pressure: Annotated[
        str | None, typer.Option(help="Inside while it leaked so; else mean of ordinary use.")
    ] = None,
    test_pressure: Annotated[str, typer.Option(help="Of nitrogen or tracer.")] = "10 bar gauge",
    room: Annotated[str | None, typer.Option(help="Room and gas, such as 25 °C.")] = None,
    basis: Annotated[str, typer.Option(help="Temperature that volumes count at.")] = "20 °C",
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """A leak's rate in every unit, its size, and what it does at another pressure or gas."""
    from coldwright.usecases.leak import RateWords, rate

    chosen = system(units)
    words = RateWords(
        job=job,
        refrigerant=refrigerant,
        rate=rate_text,
        lost_kg=_optional("--lost", lost, D.MASS),
        over_s=_optional("--over", over, D.TIME),
        charge_kg=_optional("--charge", charge, D.MASS),
        left_kg=_optional("--left", left, D.MASS),
        side=choice("--side", side, ("high_side", "low_side")),
        pressure_pa=_optional("--pressure", pressure, D.PRESSURE),
        test_pa=quantity("--test-pressure", test_pressure, D.PRESSURE),
        room_k=_optional("--room", room, D.TEMPERATURE),
        basis_k=quantity("--basis", basis, D.TEMPERATURE),
    )
    try:
        answer = rate(words)
    except OutOfRange as error:
        raise BadInput(COMMAND_LINE, error.quantity, f"{error.value:g} {error.unit}",
                       f"{error.low:g} to {error.high:g} {error.unit}") from None  # fmt: skip
    print(dumped(_json(answer)) if as_json else "\n".join(_lines(answer, chosen)))


def _optional(option: str, text: str | None, dimension: D) -> float | None:
    return None if text is None else quantity(option, one_line(text), dimension)


def _rate_json(rate: LeakRate) -> dict[str, object]:
    return {
        "gas": rate.gas.identifier,
        "g_yr": rate.g_yr,
        "pa_m3_s": rate.throughput_pa_m3_s,
        "mbar_l_s": rate.mbar_l_s,
        "atm_cc_s": rate.atm_cc_s,
        "sccm_0c": rate.sccm,
        "mol_s": rate.mass_flow_kg_s / rate.gas.molar_mass_kg_mol,
        "basis_k": rate.basis_k,
    }


def _json(answer: LeakAnswer) -> dict[str, object]:
    question, size = answer.question, answer.size
    pace = question.pace
    span = (None, None) if pace is None else pace.span()
    return {
        "refrigerant": question.refrigerant,
        "rate": _rate_json(question.rate),
        "rate_low_g_yr": span[0],
        "rate_high_g_yr": span[1],
        "side": question.side,
        "regimes": [{"source": o.source, "regimes": o.regimes} for o in answer.opinions],
        "regime_disputed": answer.disputed,
        "hole_m": size.hole_m,
        "capillary_bore_m": size.capillary_bore_m,
        "capillary_length_m": size.capillary_length_m,
        "knudsen": size.knudsen,
        "bubble_1mm_s": answer.bubble_1mm_s,
        "elsewhere": [
            {
                "state": e.state,
                "inside_pa": e.inside_pa,
                "low": _rate_json(e.low),
                "high": _rate_json(e.high),
                "by_law": {name: _rate_json(r) for name, r in e.by_law},
            }
            for e in answer.elsewhere
        ],
        "air_drawn_in": [
            {"side": s, "low_g_yr": low, "high_g_yr": high} for s, low, high in answer.air_in
        ],
        "notes": answer.notes,
        "cautions": answer.cautions,
    }


def _lines(answer: LeakAnswer, chosen: System) -> list[str]:
    question, rate = answer.question, answer.question.rate
    mass = f"{figures(rate.g_yr)} g/yr"
    if chosen is System.US:
        mass = f"{figures(rate.oz_yr)} oz/yr ({mass})"
    at = show(rate.basis_k, D.TEMPERATURE, chosen)
    rows = [
        ("Mass", f"{mass} of {rate.gas.words}"),
        ("Volume", f"{_e(rate.throughput_pa_m3_s)} Pa·m³/s at {at}"),
        ("", f"{_e(rate.mbar_l_s)} mbar·l/s at {at}"),
        ("", f"{_e(rate.atm_cc_s)} atm·cc/s at {at}"),
        ("", f"{_e(rate.sccm)} sccm at {show(STANDARD_K, D.TEMPERATURE, chosen)}"),
        ("Bubble", f"1 mm: one in {figures(answer.bubble_1mm_s, 2)} s"),
    ]
    if question.pace is not None:
        low, high = question.pace.span()
        rows.insert(1, ("80 % span", f"{figures(low, 2)} to {figures(high, 2)} g/yr"))
    lines = ["LEAK RATE", *table(rows)]
    size = answer.size
    lines += ["", "AS LARGE AS"]
    lines += table([
        ("Short hole", f"{figures(size.hole_m * 1e6, 2)} µm across"),
        ("Passage", f"{figures(size.capillary_bore_m * 1e6, 2)} µm bore, "
                    f"{figures(size.capillary_length_m * 1e3, 2)} mm long"),
    ])  # fmt: skip
    lines += ["", "HOW IT FLOWS"]
    lines += items(f"{capital(' or '.join(o.regimes) or 'no word')}: {o.source}."
                   for o in answer.opinions)  # fmt: skip
    if answer.disputed:
        lines += wrapped("Sources disagree here, so what follows is a band over the laws.")
    lines += ["", "THE SAME LEAK ELSEWHERE"]
    for e in answer.elsewhere:
        lines += wrapped(f"{capital(e.words)}, {show(e.inside_pa, D.PRESSURE, chosen)}:")
        lines += wrapped(_band(e.low, e.high), first="  ")
    inward = [(s, low, high) for s, low, high in answer.air_in if high > 1e-3]
    if inward:
        lines += ["", "AIR DRAWN IN, IF IT LEAKS THERE"]
        lines += table((s.replace("_", " "), f"{figures(low, 2)} to {figures(high, 2)} g/yr")
                       for s, low, high in inward)  # fmt: skip
    lines += ["", *items(answer.notes)] if answer.notes else []
    return [*lines, "", "CAUTION", *items(answer.cautions, "! ")]


def _band(low: LeakRate, high: LeakRate) -> str:
    inward = high.mass_flow_kg_s < 0.0
    first, last = (high.times(-1.0), low.times(-1.0)) if inward else (low, high)
    grams = f"{_span(figures(first.g_yr, 2), figures(last.g_yr, 2))} g/yr"
    volume = f"{_span(_e(first.mbar_l_s), _e(last.mbar_l_s))} mbar·l/s"
    return f"{grams} of {low.gas.words}{' INWARDS' if inward else ''}, {volume}"


def _span(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _e(value: float) -> str:
    return f"{value:.1e}"
