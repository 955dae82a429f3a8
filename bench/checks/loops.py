"""Frame loop and oil cooler: little is published, so signs and closed forms."""

from __future__ import annotations

from dataclasses import replace

from CoolProp.HumidAirProp import HAPropsSI

from bench.checks.appliances import Appliance, kwh_a_day, settled, shipped
from bench.checks.row import PRACTICE, Known, Part, Row, Source, counted, most
from coldwright.circuit.layout import without_frame_loop
from coldwright.circuit.records import OilCooler
from coldwright.cycle.high_side.door_frame import dew_point

GASKET = Source(
    "Ghassemi & Shapiro 1991 by an EPA summary; a later gasket paper quoting it", Known.SECONDARY
)  # fmt: skip
HUMID_AIR = Source("CoolProp 8.0.0, humid air", Known.COMPUTED)
FRAMED = ("frame_loop", "frame_loop_first", "oil_cooler_and_frame_loop")
OILED = ("oil_cooler", "oil_cooler_and_frame_loop")
PRESSURE_PA = 101_325.0
WORDS = (
    "The example circuits with loops (invented appliances), room 25 °C. No watts into the cabinet "
    "and no frame temperatures were found: the gasket's region is the nearest thing published, "
    "and its shares are of different things (thermal load, energy) and eras."
)


def parts() -> tuple[Part, ...]:
    """All of them."""
    return (Part("Loops of the high side", WORDS, (*_frame(), *_oil(), *_dew())),)


def _frame() -> list[Row]:
    shares, warmer, dearer = [], [], []
    for name in FRAMED:
        a = shipped(name)
        s = settled(a)
        shares.append(100.0 * s.frame_inward_w / s.load_w)
        cold = settled(_without_loop(a, s.charge_frame_loop_kg))
        warmer.append(s.door_frame_k - cold.door_frame_k)
        dearer.append(100.0 * (kwh_a_day(s) / kwh_a_day(cold) - 1.0))
    return [
        counted("frame-share", "what passes the heated frame inward, of the cabinet's load, "
                "running", GASKET, "10 to 30 % (gasket); up to 21 % (gasket area)",
                [10.0 <= x <= 30.0 for x in shares], _spread(shares, "%"),
                note="Theirs is the gasket's region without a warm loop, ours the whole frame with "
                "one."),
        counted("frame-warm", "the loop warms the frame", PRACTICE, "warmer",
                [x > 2.0 for x in warmer], _spread(warmer, "K")),
        counted("frame-energy", "the loop costs energy, its heat in part inside the cabinet",
                PRACTICE, "costs", [x > 0.0 for x in dearer], _spread(dearer, "%"),
                note="Against the loop by-passed and the charge less by what it held. The loop is "
                "condenser too: where that is worth more than the heat it sends inward, energy "
                "falls."),
    ]  # fmt: skip


def _without_loop(a: Appliance, charge_kg: float) -> Appliance:
    circuit = without_frame_loop(a.circuit)
    return replace(a, circuit=replace(circuit, charge_kg=circuit.charge_kg - charge_kg))


def _oil() -> list[Row]:
    shell, hot = [], []
    for name in OILED:
        a = shipped(name)
        # The cooler gone, its tube too: a circuit of the same condenser
        bare = replace(a, circuit=replace(a.circuit, oil_cooler=OilCooler()))
        with_, without = settled(a), settled(bare)
        shell.append(without.shell_k - with_.shell_k)
        hot.append(without.discharge_line_k - with_.discharge_line_k)
    return [
        counted("oil-shell", "without its oil cooler the shell is hotter", PRACTICE, "hotter",
                [x > 0.0 for x in shell], _spread(shell, "K"),
                note="No watts or temperatures of an oil cooler were found."),
        counted("oil-discharge", "and the discharge line too", PRACTICE, "hotter",
                [x > 0.0 for x in hot], _spread(hot, "K")),
    ]  # fmt: skip


def _dew() -> list[Row]:
    off = 0.0
    for celsius in (10.0, 25.0, 43.0):
        for humidity in (0.55, 0.75, 0.95):
            t = celsius + 273.15
            theirs = HAPropsSI("Tdp", "T", t, "R", humidity, "P", PRESSURE_PA)
            off = max(off, abs(dew_point(t, humidity) - theirs))
    return [
        most("dew-point", "dew point above freezing, 10 to 43 °C, 55 to 95 %", HUMID_AIR, off,
             allowed=0.15, why="the formula's own error", published="the library's value",
             scale=1.0, unit="K"),
    ]  # fmt: skip


def _spread(values: list[float], unit: str) -> str:
    return f"{min(values):+.3g} to {max(values):+.3g} {unit}"
