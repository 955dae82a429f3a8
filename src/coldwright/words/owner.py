"""What the owner reads: alternatives, causes and flips without words of the trade."""

from __future__ import annotations

from collections.abc import Mapping

from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS
from coldwright.repair.alternative_records import Alternative
from coldwright.words.repair import money, short
from coldwright.words.wording import NBSP
from coldwright.worth.flips import Flip
from coldwright.worth.report import RepairReport

TITLES: Mapping[str, str] = {
    "mend_tube": "Mend the leaking tube",
    "bypass_frame_loop": "Mend it by leaving out the leaking tube in the door frame",
    "new_evaporator": "Put in a new cold plate",
    "mend_evaporator": "Mend the hole in the cold plate",
    "renew_capillary": "Renew the blocked fine tube and its filter",
    "new_compressor": "Put in a new motor and pump",
    "start_device": "Mend the part that starts the motor",
    "clean_condenser": "Clean the warm coil, give it air",
    "defrost_and_fan": "Thaw it and mend what let it ice up",
    "seal_and_heater": "Mend the door seal, hinge or heater",
    "mend_control": "Mend its thermostat or control",
    "charge_anew": "Empty it and fill it anew",
    "do_nothing": "Leave it as it is",
    "replace": "Buy a new one",
    "scrap": "Give it up, without a new one",
}
CAUSES: Mapping[str, str] = {
    **{name: fault.words.owner for name, fault in FAULTS.items()},
    "leak_reachable": "it leaks at a tube that can be reached",
    "leak_evaporator": "it leaks in the cold plate",
    "leak_frame_loop": "it leaks in a tube inside the door frame",
    "leak_buried": "it leaks inside the insulation, out of reach",
    "starting": "the part that starts its motor, or the supply to it, has failed",
    "motor": "its motor or pump is dead",
    "weak_compressor": "its pump is worn",
    "unnamed": "it is something else",
}
# by the flip's quantity: what is said below and above
_IF: Mapping[str, tuple[str, str]] = {
    "age of the appliance": ("If it were younger than", "If it were older than"),
    "price of electricity": ("If electricity cost less than", "If electricity cost more than"),
    "price of a new appliance": ("If a new one cost less than", "If a new one cost more than"),
    "hourly rate": ("If an hour of work cost less than", "If an hour of work cost more than"),
    "probability of the leading cause": (
        "If we were less sure of the fault than", "If we were surer of the fault than",
    ),
}  # fmt: skip


def title(alternative: Alternative) -> str:
    """An alternative as the owner reads it."""
    first, *more = (TITLES.get(one, alternative.title) for one in alternative.parts)
    return ", and: ".join((first, *(name[:1].lower() + name[1:] for name in more)))


def cause(names: Together) -> str:
    """A cause as the owner reads it, or two at once as both."""
    return " and ".join(CAUSES.get(one, one.replace("_", " ")) for one in names)


def flip_lines(f: Flip, report: RepairReport) -> tuple[str, ...]:
    """One sentence for each end at which the answer changes."""
    below, above = _IF.get(f.quantity, (f"{f.quantity} below", f"{f.quantity} above"))
    ends = ((below, f.below, f.below_to), (above, f.above, f.above_to))
    return tuple(
        f"{start} {_amount(f, value, report)}: {_named(to, report)} would cost least."
        for start, value, to in ends
        if value is not None and to is not None
    )


def _named(alternative: str, report: RepairReport) -> str:
    said = title(report.of(alternative).alternative)
    return f"“{said[0].lower()}{said[1:]}”"


def _amount(f: Flip, value: float, report: RepairReport) -> str:
    if f.unit == "fraction":
        return f"{100.0 * value:.0f}{NBSP}%"
    if f.unit == "year":
        return f"{value:.0f}{NBSP}years"
    # A price of electricity needs its decimals, the others none.
    if value < 10.0:
        per = f" {f.unit}" if f.unit else ""
        return f"{short(value)}{NBSP}{report.shop.currency}".rstrip(NBSP) + per
    return money(value, report)
