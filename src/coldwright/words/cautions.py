"""The usual cautions, each shown where its step stands. Common practice, no published source,
where no other is named."""

from __future__ import annotations

from coldwright.errors import BadInput
from coldwright.refrigerant.facts import UNKNOWN, Refrigerant, refrigerant_facts
from coldwright.words.report import Caution

_LIVE = {
    "supply_voltage",
    "appliance_power",
    "compressor_power",
    "appliance_current",
    "compressor_current",
    "starting_current",
}
_DEAD = {
    "winding_resistance_run",
    "winding_resistance_start",
    "winding_resistance_run_to_start",
    "insulation_resistance",
    "start_device_resistance",
    "overload_resistance",
    "capacitor_share",
}
_HOT = {
    "shell_temperature",
    "discharge_line_temperature",
    "condenser_inlet_temperature",
}

LOCAL = "Local codes and licensed practice decide what may be done here, and by whom."


def before_power(refrigerant: str) -> tuple[Caution, ...]:
    """What to know before anything is energised.

    Parameters
    ----------
    refrigerant : str
        Name as on the plate.

    Returns
    -------
    tuple of Caution
        Cautions, gas first.
    """
    return (*flammable(refrigerant), _MAINS)


def at_reading(key: str, opens_circuit: bool, refrigerant: str) -> tuple[Caution, ...]:
    """What to know before that reading is taken.

    Parameters
    ----------
    key : str
        Identifier of the reading.
    opens_circuit : bool
        Whether it opens the circuit.
    refrigerant : str
        Name as on the plate.

    Returns
    -------
    tuple of Caution
        Cautions; empty where there is nothing to know.
    """
    found: tuple[Caution, ...] = ()
    if opens_circuit:
        found += (_opening(refrigerant),)
    if key in ("suction_pressure", "standing_pressure"):
        found += (_below_atmosphere(refrigerant),)
    if key in _LIVE:
        found += (_MAINS,)
    if key in _DEAD:
        found += (_UNPLUGGED,)
    if key in _HOT:
        found += (_BURNS,)
    return found


def handled_as(refrigerant: str) -> Refrigerant:
    """Facts of a refrigerant; one without facts is handled as unknown.

    Parameters
    ----------
    refrigerant : str
        Name as on the plate.

    Returns
    -------
    Refrigerant
        The facts.
    """
    try:
        return refrigerant_facts(refrigerant)
    except BadInput:
        return UNKNOWN


def flammable(refrigerant: str) -> tuple[Caution, ...]:
    """What to know of one that burns, or may; empty where it does not.

    Parameters
    ----------
    refrigerant : str
        Name as on the plate.

    Returns
    -------
    tuple of Caution
        One caution or none.

    Examples
    --------
    >>> flammable("R134a")
    ()
    """
    facts = handled_as(refrigerant)
    if not facts.flammable:
        return ()
    title = f"{refrigerant} is flammable"
    if facts is UNKNOWN and refrigerant == UNKNOWN.name:
        title = "Refrigerant unknown: treat it as flammable"
    elif facts is UNKNOWN:
        title = f"{refrigerant}: nothing is held about it, treat it as flammable"
    return (
        Caution(
            title,
            (
                "Before anything is energised: gas alarm at floor level and inside the cabinet.",
                "If it sounds, work no switch or plug here; open windows, leave, "
                "and cut the supply from outside the room.",
                "No flame, spark, brush motor or smoking near it. Keep air moving at floor level.",
                LOCAL,
            ),
        ),
    )


def _opening(refrigerant: str) -> Caution:
    lines = [
        "First do what opens nothing: every tapping loses part of a small charge.",
        "Goggles and gloves; never leave a piercing valve on the circuit.",
    ]
    if handled_as(refrigerant).flammable:
        lines.insert(
            0, "Flammable gas comes out here: gas alarm on, no ignition source, air moving."
        )
    return Caution("This opens the circuit", (*lines, LOCAL))


def _below_atmosphere(refrigerant: str) -> Caution:
    usual = "can run below atmospheric pressure, and does with a leak or a restriction"
    if refrigerant == "R600a":
        usual = "runs below atmospheric pressure even when healthy"
    lines = [
        f"The low side {usual}.",
        "Connect gauges with the compressor stopped and the hoses purged only: "
        "running, the circuit inhales.",
        "Air and moisture come in together.",
    ]
    if handled_as(refrigerant).flammable:
        lines.append("Once it has inhaled, a flammable mixture may be inside: do not run it.")
    return Caution("Low side below atmosphere", tuple(lines))


_MAINS = Caution(
    "Mains voltage",
    (
        "Unplug before a cover comes off; discharge a run or start capacitor through a resistor.",
        "What must be measured live: insulated probes, covers back on first, dry floor.",
        "Never start a compressor that is open or under vacuum.",
    ),
)
_UNPLUGGED = Caution(
    "Unplugged for this one",
    (
        "Unplug, discharge any capacitor, pull the leads off the compressor's pins, then measure.",
        "An open overload on a hot shell looks like an open winding: let it cool and repeat.",
    ),
)
_BURNS = Caution("Hot", ("This spot can burn a hand: touch it with the probe only.",))
