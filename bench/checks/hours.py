"""Over hours: what cycling costs, and how long a circuit with nitrogen pulls down."""

from __future__ import annotations

from functools import cache

from bench.checks.appliances import FOLDER
from bench.checks.gas import MASS_SHARE, NITROGEN, NITROGEN_KG_MOL
from bench.checks.row import Known, Part, Row, Source, counted
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job
from coldwright.transient.records import Losses
from coldwright.usecases.pulldown import Asked, pulldown

TR77 = Source("Coulter & Bullard 1995, ACRC TR-77", Known.ABSTRACT)
TR58 = Source("Krause & Bullard 1994, ACRC TR-58 (rotary compressor)", Known.ABSTRACT)
HOURS = 8.0
WITH_GAS = "plain_skin_fan"
PULL_DOWN_HOURS = 6.0
SOFTER = (
    "A cold compressor's thicker oil and the start's inrush are not modelled, and a starved start "
    "draws less here than it does in a laboratory."
)
WORDS = (
    "The plain examples (invented appliances) over 8 h from their settings with a household load, "
    "room 25 °C, cycling on their thermostat; losses are whole cycles against the steady circuit "
    "in the air it had while running, as TR-77 counts them."
)


def parts() -> tuple[Part, ...]:
    """All of them."""
    return (Part("Over hours", WORDS, (*_cycling(), *_pull_down())),)


@cache
def _losses() -> tuple[Losses, ...]:
    found = []
    for path in sorted(FOLDER.glob("plain_*.toml")):
        lost = pulldown(load_job(path), Asked(hours=HOURS, warm_start=False)).result.losses
        if lost is not None:
            found.append(lost)
    return tuple(found)


def _band(
    key: str, held: str, source: Source, low: float, high: float, values: list[float], note: str
) -> Row:
    return counted(
        key, held, source, f"{low:g} to {high:g} %", [low <= v <= high for v in values],
        f"{min(values):+.2g} to {max(values):+.2g} %", note=note,
    )  # fmt: skip


def _cycling() -> list[Row]:
    lost = _losses()
    capacity = [100.0 * one.capacity_loss_fraction for one in lost]
    power = [100.0 * one.power_rise_fraction for one in lost]
    efficiency = [100.0 * one.efficiency_loss_fraction for one in lost]
    load = [100.0 * one.migration_load_fraction for one in lost]
    moved = [100.0 * one.displaced_charge_fraction for one in lost]
    return [
        _band("cycling-capacity", "capacity lost by cycling", TR77, 3.0, 17.0, capacity,
              "Below zero for chests: why is not known to us."),
        _band("cycling-power", "power raised by cycling", TR77, 1.0, 9.0, power, SOFTER),
        _band("cycling-efficiency", "efficiency lost by cycling", TR77, 5.0, 25.0, efficiency,
              SOFTER),
        _band("cycling-migration", "load added by migration at rest", TR58, 2.0, 6.0, load,
              "Their compressor was a rotary one, and their high side another."),
        counted("cycling-moves", "at rest charge moves from the condenser to the evaporator", TR77,
                "moves", [x > 0.0 for x in moved],
                f"{min(moved):.2g} to {max(moved):.2g} % of the charge is missing on the high side "
                "at a start"),
    ]  # fmt: skip


def _pull_down() -> list[Row]:
    job = load_job(FOLDER / f"{WITH_GAS}.toml")
    sound = _reached(job, ())
    mol = MASS_SHARE * (job.plate.charge_kg or 0.0) / NITROGEN_KG_MOL
    gassy = _reached(job, (("non_condensables", mol),))
    return [
        counted("nitrogen-pull-down", "nitrogen, 0.43 % by mass in R600a: pull-down takes longer",
                NITROGEN, "up to 10 h longer", [gassy > sound],
                f"{sound / 3600.0:.1f} h sound, {gassy / 3600.0:.1f} h with it",
                note="Empty, from 25 °C; their load and room are not in the abstract. Warm, the "
                "sound circuit is short of flow through its capillary; the gas's pressure pushes "
                "more through, and no gas holds it back there (see above)."),
    ]  # fmt: skip


def _reached(job: Job, faults: tuple[tuple[str, float], ...]) -> float:
    """Until the thermostat first stops the compressor; endless where it never does. [s]"""
    seconds = pulldown(job, Asked(hours=PULL_DOWN_HOURS, faults=faults)).result.pull_down_s
    return seconds if seconds == seconds else float("inf")
