"""The state of a circuit whose compressor does not turn."""

from __future__ import annotations

import numpy as np

from coldwright.cycle.state import SOLVED, STATE


def at_rest(
    out: np.ndarray,
    circuits: np.ndarray,
    room: np.ndarray,
    ff: np.ndarray,
    fz: np.ndarray,
    called: np.ndarray,
) -> None:
    """Fill states of a compressor that does not turn: everything at its surroundings.

    Pressures and the door frame are left NaN: `standing` and `loops.bare_frame` tell them.

    Parameters
    ----------
    out : ndarray
        States, dtype STATE, shape (n,), filled. [SI]
    circuits : ndarray
        Dtype CIRCUIT, shape (n,). [SI]
    room, ff, fz : ndarray
        Room, fresh-food and freezer temperatures, shape (n,). [K]
    called : ndarray
        Whether the control asks for cold: then the fans turn; bool, shape (n,).
    """
    for name in STATE.names or ():
        out[name] = 0.0
    for name in (
        "shell_k", "discharge_line_k", "condenser_inlet_k", "condenser_middle_k",
        "condenser_outlet_k", "drier_inlet_k", "drier_outlet_k", "suction_line_k", "condensing_k",
    ):  # fmt: skip
        out[name] = room
    for name in ("evaporator_inlet_k", "evaporator_outlet_k", "freezer_k", "evaporating_k"):
        out[name] = fz
    out["fresh_food_k"] = ff
    out["door_frame_k"] = np.nan
    k = circuits["cabinet"]
    fans = k["evaporator_fan_power_w"] + k["condenser_fan_power_w"]
    out["appliance_power_w"] = k["controls_power_w"] + np.where(called, fans, 0.0)
    out["evaporator_outlet_quality"] = 1.0
    out["suction_pressure_pa"] = out["condensing_pressure_pa"] = np.nan
    out["status_code"] = SOLVED
