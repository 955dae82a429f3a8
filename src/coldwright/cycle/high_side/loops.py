"""What the loops add to the high side's geometry: volumes, and the frame they warm."""

from __future__ import annotations

from math import pi

from coldwright.refrigerant.compiled import kernel

NAN = float("nan")


@kernel
def loop_volume(c):
    """Inner volume of oil cooler and loops.

    Parameters
    ----------
    c : record
        `circuit.records.Circuit`.

    Returns
    -------
    float
        0 in a plain circuit. [m3]

    References
    ----------
    .. [1] Geometry.
    """
    volume = 0.25 * pi * c.frame_loop.tube_bore_m**2 * c.frame_loop.tube_length_m
    volume += 0.25 * pi * c.drain_pan_loop.tube_bore_m**2 * c.drain_pan_loop.tube_length_m
    return volume + 0.25 * pi * c.oil_cooler.tube_bore_m**2 * c.oil_cooler.tube_length_m


@kernel
def high_side_volume(c):
    """Inner volume from discharge line to drier.

    Parameters
    ----------
    c : record
        `circuit.records.Circuit`.

    Returns
    -------
    float
        Volume. [m3]

    References
    ----------
    .. [1] Geometry.
    """
    plain = c.condenser.volume_m3 + c.drier.volume_m3 + c.discharge_line.volume_m3
    return plain + loop_volume(c)


@kernel
def bare_frame(c, room, fresh_food, freezer):
    """Door frame without heat from its loop: (flange [K], cabinet air behind it [K]).

    Parameters
    ----------
    c : record
        `circuit.records.Circuit`.
    room, fresh_food, freezer : float
        Temperatures. [K]

    Returns
    -------
    tuple
        NaN for a flange that is not described.

    References
    ----------
    .. [1] Heat balance of the flange.
    """
    f = c.frame_loop
    share = f.fresh_food_share_fraction
    inside = share * fresh_food + (1.0 - share) * freezer
    both = f.room_conductance_w_k + f.cabinet_conductance_w_k
    if not f.room_conductance_w_k > 0.0:
        return NAN, inside
    return (f.room_conductance_w_k * room + f.cabinet_conductance_w_k * inside) / both, inside


@kernel
def ends_in_loop(c):
    """Whether a loop lies after the condenser.

    Parameters
    ----------
    c : record
        `circuit.records.Circuit`.

    References
    ----------
    .. [1] Geometry.
    """
    last = c.frame_loop.tube_length_m > 0.0 and c.frame_loop.position_code == 2.0
    pan = c.drain_pan_loop
    return last or (pan.tube_length_m > 0.0 and pan.position_code == 2.0)
