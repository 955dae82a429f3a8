"""Sizing: the maker's side of the model.

A maker matches compressor, exchangers, capillary and charge at one design
point. Given that point (evaporating and condensing temperature, subcooling,
superheat, capacity), this finds the displacement, the two areas, the bore and
the charge that meet it, so a drawn appliance is healthy by construction.
"""

from __future__ import annotations

from math import exp, log

import numpy as np

from coldwright.cycle.air_side import compartments
from coldwright.cycle.capillary.march import BOND_STEPS, TWO_PHASE_STEPS, march
from coldwright.cycle.compressor.physical import volumetric_efficiency
from coldwright.cycle.evaporator import evaporate
from coldwright.cycle.high_side.walk import pumped, rejected
from coldwright.cycle.solver.residuals import residuals
from coldwright.cycle.state import NO
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid, liquid_heat_capacity, vapour, vapour_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

LEAST_TAIL = 0.2  # of the capillary after the bond, into the evaporator; judgement of ours [m]
LONGEST = 5.0  # capillary a household maker fits; judgement of ours [m]
BORES = 24
DESIGN_TOLERANCE = 1e-7
CYCLES = 12


@kernel
def size_circuit(
    med, c, s, te, tc, subcooling, superheat, effectiveness, capacity, displacement, out, u
):
    """Size one circuit in place to meet its design point.

    Sets displacement, condenser and evaporator area, capillary bore and length, bond and
    charge; all other fields of `c` are read. Where `displacement` is not NaN it is kept and the
    capacity follows.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`, changed in place.
    s : record
        `circuit.records.Surroundings` of the design point.
    te : float
        Evaporating temperature. [K]
    tc : float
        Condensing temperature. [K]
    subcooling : float
        At the condenser's outlet. [K]
    superheat : float
        At the evaporator's outlet. [K]
    effectiveness : float
        Of the bond, on the gas side. [-]
    capacity : float
        Cooling at the design point. [W]
    displacement : float
        Known displacement, or NaN. [m3]
    out : record
        `cycle.state.RunningState` at the design point.
    u : ndarray
        Unknowns of `residuals.residuals` at the design point, out, shape (5,). [-]

    Returns
    -------
    float
        Largest residual of the loop at the design point, charge apart. [-]

    References
    ----------
    .. [1] Inversion of this package's own components.
    """
    tab = med.tables
    pe, pc = saturation_pressure(tab, te), saturation_pressure(tab, tc)
    sat, sate = saturation_all(tab, pc), saturation_all(tab, pe)
    h_co, v_co, mu_co = liquid(tab, pc, tc - subcooling)
    h_eo = vapour(tab, pe, te + superheat)[0]
    cap = c.capillary
    # Exchange by its effectiveness on the gas side
    r = np.empty(5)
    tf, tz, t_air, load, duty = compartments(c, s, 0.0, NO)
    worst = 1.0
    ps = pe * 0.98
    for _ in range(CYCLES):
        h_full = vapour(tab, ps, tc - subcooling)[0]
        q_x = effectiveness * (h_full - h_eo)
        m = capacity / (h_eo - h_co + q_x)
        # Bond from its effectiveness, as `exchange` will read it back
        cs = (h_full - h_eo) / (tc - subcooling - vapour_temperature(tab, ps, h_eo))
        ratio = cs / liquid_heat_capacity(tab, tc - subcooling)
        ntu = log((1.0 - effectiveness * ratio) / (1.0 - effectiveness)) / (1.0 - ratio)
        k = c.compressor
        m_near = (
            volumetric_efficiency(pc / ps, k.clearance_fraction, k.reexpansion_exponent)
            * k.displacement_m3 * k.speed_1_s * k.flow_factor_fraction
            / (1.25 * saturation_all(tab, ps)[4])
        )  # fmt: skip
        cap.bond_conductance_w_m_k = ntu * m_near * cs / cap.bonded_length_m
        # Bore by trial until the length is one makers use; then the length is the march's
        z = 0.0
        for _ in range(BORES):
            z = march(
                tab, pc - c.drier.loss_coefficient_1_m4 * m * m * v_co, h_co, pe, q_x, m,
                cap.bore_m, cap.roughness_m, cap.entrance_loss_fraction, cap.inlet_length_m,
                cap.bonded_length_m, ntu * (1.0 - ratio), BOND_STEPS, TWO_PHASE_STEPS,
            )[0]  # fmt: skip
            if z < cap.inlet_length_m + cap.bonded_length_m + LEAST_TAIL:
                cap.bore_m *= 1.03
            elif z > LONGEST:
                cap.bore_m *= 0.97
            else:
                break
        cap.length_m = z
        cap.stretch_bore_m = cap.bore_m
        h_hot = h_eo + q_x
        # Compressor
        for _ in range(2):
            m_c, w, h_s, t_s, h_d, t_d, t_sh, q_sh, q_oil = pumped(
                med, c, ps, pc, pc, sat, h_hot, s.room_k, tf, tz, out
            )
            if displacement > 0.0:
                k.displacement_m3 = displacement
                capacity *= m_c / m
                m = m_c
            else:
                k.displacement_m3 *= m / m_c
        # Condenser area
        x0, y0 = 0.0, 0.0
        for i in range(12):
            if i > 0 and c.oil_cooler.conductance_w_k > 0.0:
                # The first section decides what the oil gives
                got = pumped(med, c, ps, pc, pc, sat, h_hot, s.room_k, tf, tz, out)
                h_d, t_d, q_oil = got[4], got[5], got[8]
            got_h = rejected(med, c, pc, sat, m, h_d, t_d, q_oil, s.room_k, tf, tz, out)
            # Continuous measure of the outlet: temperature once subcooled, else quality
            y = (got_h[0] - h_co) / (sat[2] - sat[1])
            if abs(y) < 1e-9:
                break
            x = log(c.condenser.area_m2)
            slope = -0.8 if i == 0 or x == x0 else (y - y0) / (x - x0)
            if slope > -0.02:
                slope = -0.02
            x0, y0 = x, y
            c.condenser.area_m2 = exp(x - min(max(y / slope, -0.7), 0.7))
        # Evaporator area
        x0, y0 = 0.0, 0.0
        for i in range(12):
            got_e = evaporate(med, c, pe, sate, m, h_eo - capacity / m, t_air)
            y = (got_e[0] - h_eo) / (sate[2] - sate[1])
            if abs(y) < 1e-9:
                break
            x = log(c.evaporator.area_m2)
            slope = 0.7 if i == 0 or x == x0 else (y - y0) / (x - x0)
            if slope < 0.01:
                slope = 0.01
            x0, y0 = x, y
            c.evaporator.area_m2 = exp(x - min(max(y / slope, -0.5), 0.5))
        u[0], u[1] = log(ps), log(pc)
        low = saturation_all(tab, ps)
        u[2] = (h_eo - low[2]) / (low[2] - low[1])
        u[3] = (h_co - sat[1]) / (sat[2] - sat[1])
        u[4] = 2.45
        c.charge_kg = 1.0
        residuals(med, c, s, u, NO, r, out)
        ps *= pe / out.evaporating_pressure_pa
        c.charge_kg = exp(r[2])
        worst = max(max(abs(r[0]), abs(r[1])), abs(r[3]))
        if worst < DESIGN_TOLERANCE and abs(out.evaporating_pressure_pa / pe - 1.0) < 1e-6:
            break
    return worst


@kernel
def size_range(
    first, last, med, c, s, te, tc, subcooling, superheat, effectiveness, capacity, displacement,
    out, u, worst,
):  # fmt: skip
    """`size_circuit` over members first..last-1.

    Parameters
    ----------
    first, last : int
        Range of members. [-]
    med : Medium
        Refrigerant, oil, void model.
    c : ndarray
        Circuits, shape (n,), changed in place.
    s : ndarray
        Design surroundings, shape (n,).
    te, tc : ndarray
        Evaporating and condensing temperature, shape (n,). [K]
    subcooling, superheat : ndarray
        Shape (n,). [K]
    effectiveness : ndarray
        Shape (n,). [-]
    capacity : ndarray
        Shape (n,). [W]
    displacement : ndarray
        Shape (n,), NaN where not known. [m3]
    out : ndarray
        Design states, shape (n,).
    u : ndarray
        Unknowns at the design points, shape (n, 5). [-]
    worst : ndarray
        Residuals out, shape (n,). [-]

    References
    ----------
    .. [1] `size_circuit`.
    """
    for i in range(first, last):
        worst[i] = size_circuit(
            med, c[i], s[i], te[i], tc[i], subcooling[i], superheat[i],
            effectiveness[i], capacity[i], displacement[i], out[i], u[i],
        )  # fmt: skip
