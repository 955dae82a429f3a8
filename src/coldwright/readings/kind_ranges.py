"""What a plate value can be on each kind of appliance: wider than any we know of, all ours.

Inside these a value may still fit no appliance; then the diagnosis says so and names it.
"""

from __future__ import annotations

from coldwright.readings.job import CircuitSeen, Plate
from coldwright.readings.reader import Reader
from coldwright.units import Dimension as D
from coldwright.units import show

# Largest swept volume [m3], net volume of both compartments [m3] and charge [kg]
_MOST: dict[str, tuple[float, float, float]] = {
    "compact": (15e-6, 0.30, 0.40),
    "single_door": (25e-6, 0.70, 0.80),
    "top_mount": (30e-6, 1.00, 1.00),
    "bottom_mount": (30e-6, 1.00, 1.00),
    "side_by_side": (40e-6, 1.50, 1.50),
    "upright_freezer": (40e-6, 1.50, 1.50),
    "chest_freezer": (40e-6, 1.50, 1.50),
    "unknown": (40e-6, 1.50, 1.50),
}


def within_kind(reader: Reader, plate: Plate, circuit: CircuitSeen) -> None:
    """Refuse what no appliance of this kind has; raises `BadInput`.

    Parameters
    ----------
    reader : Reader
        Of the file.
    plate, circuit : Plate, CircuitSeen
        As read.

    Raises
    ------
    BadInput
        If displacement, volume or charge is beyond what the kind has.
    """
    swept, volume, charge = _MOST[plate.kind]
    kind = plate.kind.replace("_", " ")
    told = (plate.volume_fresh_food_m3, plate.volume_freezer_m3)
    asked = (
        ("circuit.displacement", circuit.displacement_m3, swept, D.VOLUME),
        ("plate.volume_fresh_food", told[0], volume, D.VOLUME),
        ("plate.volume_freezer", told[1], volume, D.VOLUME),
        ("plate.charge", plate.charge_kg, charge, D.MASS),
    )
    for key, value, most, dimension in asked:
        if value is not None and value > most:
            accepted = f"at most {show(most, dimension, digits=2)} on a {kind}"
            raise reader.fail(key, show(value, dimension), accepted)
