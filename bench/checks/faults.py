"""What faults, dust, a hot room and a warm box do to a running circuit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from bench.checks.appliances import (
    ROOM_K,
    Appliance,
    all_shipped,
    cop,
    held,
    kwh_a_day,
    mean_power,
    settled,
    shipped,
    with_fault,
)
from bench.checks.row import PRACTICE, Known, Part, Row, Source, between, counted
from coldwright.circuit.records import CondenserKind
from coldwright.cycle.standstill.standing import solve_standing
from coldwright.cycle.state import RunningState

CHARTS = Source("makers' charts and trade texts", Known.FULL_TEXT)
CHARTS_MEMORY = Source("makers' charts and trade texts, this row in part", Known.MEMORY)
KO = Source("Ko & Jeong 2024 (stepped clogging of a capillary)", Known.ABSTRACT)
FIELD = Source("utility field study, 28 appliances", Known.SECONDARY)
TRADE = Source("trade texts", Known.FULL_TEXT)
TRADE_MEMORY = Source("trade texts", Known.MEMORY)
TEST_ROOMS = Source("test rooms of IEC 62552-3:2015; no published ratio", Known.PRACTICE)

KELVIN = 273.15
PSI = 6894.757293168
ATMOSPHERE = 101_325.0


def parts() -> tuple[Part, ...]:
    """All of them."""
    return (
        Part("Signs of faults", _SIGN_WORDS, (*_signs(), *_clogging(), *_dust())),
        Part("A healthy appliance", _HEALTHY_WORDS, (*_healthy(),)),
        Part("The room", _ROOM_WORDS, (*_room(),)),
    )


_SIGN_WORDS = (
    "All eight example circuits, room 25 °C. Thermostat in charge: a cabinet that is short of "
    "capacity floats to its balance. Signs are those of suction pressure, discharge pressure and "
    "compressor watts against the same appliance in health; N in a chart counts as no statement."
)
_HEALTHY_WORDS = (
    "All eight example circuits at 25 °C, thermostat in charge. The families are sized to land in "
    "these ranges, so the first four rows show that they do, not that the ranges are right. "
    "Families as a whole and their energy against the public maximum-energy rules: "
    "[catalogue-families.md](catalogue-families.md)."
)
_ROOM_WORDS = "All eight example circuits with their plate charge, thermostat in charge."


@dataclass(frozen=True, slots=True)
class Sign:
    """One row of a chart: +1 up, -1 down, 0 no statement."""

    key: str
    words: str
    source: Source
    suction: int
    discharge: int
    watts: int
    altered: Callable[[Appliance], RunningState]
    note: str = ""


def _fault(name: str, severity: float) -> Callable[[Appliance], RunningState]:
    return lambda a: settled(with_fault(a, name, severity))


# Directions of the trade's charts; watts of the weak compressor and the last four rows in part
# from memory.
SIGNS = (
    Sign("undercharge", "undercharge, 60 % left", CHARTS, -1, -1, -1, _fault("undercharge", 0.6)),
    Sign("restriction", "capillary restricted to half its flow", CHARTS, -1, 0, -1,
         _fault("capillary_restricted", 0.5),
         "Texts disagree on the discharge pressure (normal or down against up); no sign is held."),
    Sign("weak", "weak compressor, half the flow", CHARTS, 1, -1, -1,
         _fault("weak_compressor", 0.5)),
    Sign("overcharge", "overcharge, 130 %", CHARTS_MEMORY, 1, 1, 1, _fault("overcharge", 1.3)),
    Sign("condenser-air", "condenser air, 40 % of its conductance", CHARTS_MEMORY, 1, 1, 1,
         _fault("condenser_air", 0.4)),
    Sign("evaporator-air", "evaporator air, 30 % of its conductance", CHARTS_MEMORY, -1, -1, -1,
         _fault("evaporator_air", 0.3)),
    Sign("warm-box", "door or seal: compartments 6 K warm", CHARTS_MEMORY, 1, 1, 1,
         lambda a: held(a, warmer_k=6.0),
         "With R134a or R600a on a plate the suction pressure barely moves: liquid shifts to the "
         "condenser, the coil is starved and the choked capillary sets the flow."),
)  # fmt: skip
_UP = {1: "up", -1: "down", 0: "N"}


def _signs() -> list[Row]:
    rows = []
    for sign in SIGNS:
        agrees, moves = [], []
        for a in all_shipped():
            before, after = settled(a), sign.altered(a)
            change = (
                after.suction_pressure_pa / before.suction_pressure_pa - 1.0,
                after.condensing_pressure_pa / before.condensing_pressure_pa - 1.0,
                after.compressor_power_w / before.compressor_power_w - 1.0,
            )
            moves.append(change)
            asked = (sign.suction, sign.discharge, sign.watts)
            agrees += [c * s > 0.0 for c, s in zip(change, asked, strict=True) if s]
        low, middle, high = np.median(moves, axis=0) * 100.0
        rows.append(
            counted(
                f"sign-{sign.key}", sign.words, sign.source,
                f"suction {_UP[sign.suction]}, discharge {_UP[sign.discharge]}, "
                f"watts {_UP[sign.watts]}",
                agrees, f"median {low:+.0f} %, {middle:+.0f} %, {high:+.0f} %", note=sign.note,
            )
        )  # fmt: skip
    return rows


def _clogging() -> list[Row]:
    falls, order, loss = [], [], []
    for a in all_shipped():
        sound, clogged = held(a), held(with_fault(a, "capillary_restricted", 0.6))
        change = (
            clogged.cooling_w / sound.cooling_w - 1.0,
            clogged.compressor_power_w / sound.compressor_power_w - 1.0,
            cop(clogged) / cop(sound) - 1.0,
        )
        loss.append(change)
        falls.append(max(change) < 0.0)
        order.append(change[0] == min(change))
    q, p, c = np.median(loss, axis=0) * 100.0
    a = shipped("plain_static_fan")
    warm = settled(with_fault(a, "capillary_restricted", 0.25)).fresh_food_k
    rise = warm - a.circuit.cabinet.fresh_food_set_k
    return [
        counted("clog-fall", "clogging: capacity, power and COP all fall (60 % of the flow, "
                "compartments held)", KO, "all fall", falls,
                f"median {q:+.0f} %, {p:+.0f} %, {c:+.0f} %"),
        counted("clog-order", "clogging: capacity falls fastest", KO, "capacity before power",
                order, f"median {q:+.0f} % against {p:+.0f} % of power"),
        counted("clog-air", "clogging: in the end the air is warmer (25 % of the flow)", KO,
                "temperature rises; at 84.1 % clogged no mode holds the target", [rise > 1.0],
                f"{rise:+.1f} K above the setting"),
    ]  # fmt: skip


def _dust() -> list[Row]:
    up = []
    saved = []
    for a in all_shipped():
        sound, dusty = settled(a), settled(with_fault(a, "condenser_air", 0.7))
        up.append(
            dusty.condensing_k > sound.condensing_k + 1.0
            and dusty.run_fraction > sound.run_fraction
            and mean_power(dusty) > mean_power(sound)
        )
        saved.append(100.0 * (kwh_a_day(sound) / kwh_a_day(dusty) - 1.0))
    return [
        counted("dust-signs", "condenser at 70 % of its conductance: condensing temperature, run "
                "time and energy rise", CHARTS_MEMORY, "very hot, long run", up, "all up"),
        between("dust-energy", "energy saved by cleaning, median of eight at 70 %", FIELD, -10.0,
                -3.0, float(np.median(saved)), published="about -6 %", unit="%", digits=2,
                why="half to 1.7 times, ours: how dirty theirs were is not known"),
    ]  # fmt: skip


def _healthy() -> list[Row]:
    states = [(a, settled(a)) for a in all_shipped()]
    te = [s.evaporating_k - KELVIN for _, s in states]
    rise = [s.condensing_k - ROOM_K for _, s in states]
    run = [s.run_fraction for _, s in states]
    hot = [s.discharge_line_k - KELVIN for _, s in states]
    back = [s.suction_line_k - KELVIN for _, s in states]
    fan = [a.circuit.condenser.kind_code == CondenserKind.FAN for a, _ in states]
    still = [r for r, f in zip(rise, fan, strict=True) if not f]
    blown = [r for r, f in zip(rise, fan, strict=True) if f]
    by_gas = {name: [h for (a, _), h in zip(states, hot, strict=True) if a.refrigerant == name]
              for name in ("R600a", "R134a", "R12")}  # fmt: skip
    gauge = {
        name: [(s.suction_pressure_pa - ATMOSPHERE) / PSI for a, s in states
               if a.refrigerant in name] for name in (("R134a", "R12"), ("R600a",))
    }  # fmt: skip
    warm = settled(shipped("plain_static_fan"), 305.15)
    pair = (warm.condensing_pressure_pa - ATMOSPHERE) / PSI
    level = [
        solve_standing(a.circuit, room_k=ROOM_K, evaporator_k=s.freezer_k, running=s)
        .equalising_s / 60.0 for a, s in states
    ]  # fmt: skip
    return [
        _all("healthy-evaporating", "evaporating temperature", PRACTICE, -30.0, -22.0, te, "°C"),
        _all("healthy-condensing", "condensing above the room", PRACTICE, 8.0, 20.0, rise, "K"),
        _all("healthy-run", "run fraction at 25 °C", PRACTICE, 0.3, 0.7, run, ""),
        _all("healthy-discharge", "discharge line", PRACTICE, 45.0, 95.0, hot, "°C"),
        _all("healthy-static", "condensing above the room, static and skin", TRADE_MEMORY, 10.0,
             17.0, still, "K"),
        _all("healthy-fan", "condensing above the room, fan", TRADE_MEMORY, 8.0, 14.0, blown, "K"),
        _all("healthy-return", "suction line at the shell", TRADE_MEMORY, 15.0, 32.0, back, "°C"),
        _all("healthy-suction", "suction of R134a and R12", TRADE, -2.0, 5.0,
             gauge["R134a", "R12"], "psi gauge"),
        counted("healthy-vacuum", "R600a runs in vacuum", TRADE, "always",
                [p < 0.0 for p in gauge[("R600a",)]], _spread(gauge[("R600a",)], "psi gauge")),
        between("healthy-pair", "discharge of R134a, room 32 °C (the text names none)", TRADE,
                130.0, 170.0, pair, published="150 psi gauge beside 2 psi", unit="psi gauge",
                why="20 either side, ours"),
        counted("healthy-gas-order", "discharge line: R600a below R134a below R12 (means)",
                PRACTICE, "R600a the cooler",
                [np.mean(by_gas["R600a"]) < np.mean(by_gas["R134a"]) < np.mean(by_gas["R12"])],
                ", ".join(f"{k} {np.mean(v):.0f} °C" for k, v in by_gas.items())),
        _all("healthy-equalising", "time to equalise after a stop", TRADE, 0.0, 10.0, level,
             "min", published="7 to 10 min; up to 7 min for a fixed orifice",
             why="10 min at most"),
    ]  # fmt: skip


def _all(
    key: str,
    held_: str,
    source: Source,
    low: float,
    high: float,
    values: list[float],
    unit: str,
    *,
    published: str = "",
    why: str = "",
) -> Row:
    """Every value of a list inside a range."""
    stated = published or f"{low:g} to {high:g} {unit}".strip()
    note = f"Allowed: {why}." if why else ""
    inside = [low <= v <= high for v in values]
    return counted(key, held_, source, stated, inside, _spread(values, unit), note=note)


def _spread(values: list[float], unit: str) -> str:
    return f"{min(values):.3g} to {max(values):.3g} {unit}".strip()


def _room() -> list[Row]:
    slopes, ratio, runs = [], [], []
    for a in all_shipped():
        cool, warm = settled(a, 289.15), settled(a, 305.15)
        slopes.append((warm.condensing_k - cool.condensing_k) / 16.0)
        ratio.append(kwh_a_day(warm) / kwh_a_day(cool))
        runs.append(warm.run_fraction > cool.run_fraction)
    return [
        _all("room-condensing", "condensing temperature follows the room, K per K from 16 to 32 °C",
             PRACTICE, 0.6, 1.1, slopes, "K/K", published="about 1", why="0.6 to 1.1, ours"),
        counted("room-run", "run fraction rises with the room", PRACTICE, "rises", runs, "all up"),
        _all("room-energy", "energy at 32 °C over that at 16 °C", TEST_ROOMS, 1.5, 2.8, ratio, "",
             published="about 2", why="1.5 to 2.8, ours"),
    ]  # fmt: skip
