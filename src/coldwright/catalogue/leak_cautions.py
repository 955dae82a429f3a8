"""Cautions of leak work: gas under pressure, oxygen, instruments and flames near what burns.

Common practice of the trade, no published source, where no other is named.
They point at dangers; local codes and licensed practice decide.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coldwright.catalogue.cautions import CAUTIONS, Caution, cautions_for

_LEAK_CAUTIONS = (
    Caution(
        "nitrogen_pressure",
        "Nitrogen under pressure",
        (
            "Dry, oxygen-free nitrogen only, through a regulator, relief set for the test.",
            "Chain the bottle. Fill slowly.",
            "Never above the lowest rating on the plate, usually 10 bar gauge at most.",
            "Valve the bottle off before the hold.",
            "Air the room: nitrogen chokes without warning.",
            "Let all pressure off before a joint is cut or heated.",
        ),
    ),
    Caution(
        "no_oxygen",
        "No oxygen, no compressed air",
        ("Never oxygen or compressed air in a circuit: with oil they explode.",),
    ),
    Caution(
        "no_fuel_with_air",
        "No fuel pressed with air",
        (
            "Never press a flammable refrigerant with air to find a leak.",
            "Trace with 5 % hydrogen in nitrogen bought as a mixture, or with helium.",
        ),
    ),
    Caution(
        "instrument_ignites",
        "Instruments near flammable gas",
        (
            "Only instruments rated for this gas, switched on and zeroed outdoors.",
            # service text after IEC 60335-2-40, read in full
            "A gas alarm set no higher than 25 % of the lower flammability limit.",
        ),
    ),
    Caution(
        "flame",
        "Flame",
        (
            "No torch while flammable gas may be inside.",
            "Flush with nitrogen, evacuate, repeat, then cut, do not unbraze.",
            "Ring joints need no flame.",
        ),
    ),
    Caution(
        "poison_in_flame",
        "Fluorocarbon in a flame",
        ("In a flame this refrigerant makes poison: empty and air first, no smoking.",),
    ),
)
LEAK_CAUTIONS: Mapping[str, Caution] = MappingProxyType({c.identifier: c for c in _LEAK_CAUTIONS})


def leak_cautions(
    refrigerant: str, *, nitrogen: bool = False, opens: bool = False, instrument: bool = False
) -> tuple[Caution, ...]:
    """The cautions that stand with a step of a leak search or a hold, what can kill first.

    Parameters
    ----------
    refrigerant : str
        As on the plate.
    nitrogen : bool
        The step puts gas under pressure into the circuit.
    opens : bool
        The step opens or cuts the circuit.
    instrument : bool
        The step brings a powered instrument to where gas may be.

    Returns
    -------
    tuple of Caution
        In the order to show them.

    Examples
    --------
    >>> leak_cautions("R600a", nitrogen=True)[-1].identifier
    'licensed_practice'
    """
    general = cautions_for(refrigerant)
    burns = any(name.endswith("_refrigerant") for name in general)
    own: list[str] = []
    if burns and instrument:
        own.append("instrument_ignites")
    if opens:
        own.append("flame" if burns else "poison_in_flame")
    if nitrogen:
        own += ["nitrogen_pressure", "no_oxygen"]
        own += ["no_fuel_with_air"] if burns else []
    first = [CAUTIONS[name] for name in general if name != "licensed_practice"]
    last = [CAUTIONS["opens_circuit"]] if opens else []
    last.append(CAUTIONS["licensed_practice"])
    return (*first, *(LEAK_CAUTIONS[name] for name in own), *last)


def sentences(cautions: tuple[Caution, ...]) -> tuple[str, ...]:
    """All their sentences, in order.

    Parameters
    ----------
    cautions : tuple of Caution
        In the order to show them.

    Returns
    -------
    tuple of str
        Whole sentences.
    """
    return tuple(sentence for caution in cautions for sentence in caution.sentences)
