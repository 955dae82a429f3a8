"""What drier, restricted stretch and capillary need to pass a flow."""

from __future__ import annotations

from math import exp, log, pi

from coldwright.cycle.capillary.flashing import NO_ENTRANCE, metastable_inlet
from coldwright.cycle.capillary.generalised_flow import generalised_flow
from coldwright.cycle.capillary.march import BOND_STEPS, TWO_PHASE_STEPS, march, pressure_after_loss
from coldwright.cycle.friction import churchill
from coldwright.refrigerant.compiled import kernel

LOW_LENGTH = 0.1  # share of the length below which the residual goes on linearly
LEAST_HEAT = 1e-6  # [J/kg]
PER_FLOW = 2.0  # length to the flow's power, about what the correlation's exponents say


@kernel
def length_residual(needed, length):
    """Scaled capillary residual: ln(needed / length), linear where almost nothing is needed.

    Parameters
    ----------
    needed : float
        Length the flow needs. [m]
    length : float
        Length of the tube. [m]

    Returns
    -------
    float
        0 where they agree, monotonic in `needed`. [-]

    References
    ----------
    .. [1] Scaling of ours.
    """
    r = needed / length
    if r > LOW_LENGTH:
        return log(r)
    return log(LOW_LENGTH) + max((r - LOW_LENGTH) / LOW_LENGTH, -20.0)


@kernel
def restriction_coefficient(cap, mu, m):
    """Loss coefficient of the capillary's restricted stretch, per flow squared.

    Parameters
    ----------
    cap : record
        `circuit.records.Capillary`.
    mu : float
        Liquid viscosity. [Pa s]
    m : float
        Mass flow. [kg/s]

    Returns
    -------
    float
        K in pressure loss = K m^2 v. [1/m4]

    References
    ----------
    .. [1] Darcy-Weisbach with Churchill (1977); contraction and exit together 1.5
       velocity heads (Idelchik 1986, rounded).
    """
    if cap.stretch_length_m <= 0.0:
        return 0.0
    d = cap.stretch_bore_m
    area = 0.25 * pi * d * d
    f = churchill(m / area * d / mu, cap.roughness_m / d)
    return (f * cap.stretch_length_m / d + 1.5) / (2.0 * area * area)


@kernel
def fed_beside_gas(sat, own, h_co):
    """Enthalpy at which pure refrigerant would feed the capillary as the mixture with gas does.

    A liquid seal keeps the gas back and is fed as it is. Vapour at the high side's end takes
    gas along: it has the volume of vapour at the refrigerant's own pressure, and counts as that
    much vapour at the total pressure. Few bubbles shorten the liquid stretch only in part; by
    as much as their volume is of the liquid's (ours).

    Parameters
    ----------
    sat : tuple
        `saturation_all` at the discharge pressure.
    own : tuple
        `saturation_all` at the refrigerant's own part of it.
    h_co : float
        Enthalpy at the end of the high side. [J/kg]

    Returns
    -------
    tuple
        enthalpy [J/kg], quality at its own pressure, negative when subcooled [-].

    References
    ----------
    .. [1] Dalton's law; homogeneous mixture.
    """
    x = (h_co - own[1]) / (own[2] - own[1])
    if x <= 0.0:
        return h_co, x
    as_vapour = x * (own[4] - own[3]) / (sat[4] - sat[3])
    seal = (sat[1] - own[1]) * exp(-x * own[4] / own[3])
    return sat[1] + as_vapour * (sat[2] - sat[1]) - seal, x


@kernel
def capillary_residual(tab, c, pc, h_co, pe, q_x, skew, mu, m):
    """Scaled excess of the length that drier, restriction and capillary need for a flow.

    Losses count as lengths of capillary that would feed on as much, so that a near
    blockage, which leaves the tube next to nothing, has as smooth a residual as a sound tube.

    Parameters
    ----------
    tab : Tables
        Property tables.
    c : record
        `circuit.records.Circuit`.
    pc : float
        Condensing pressure. [Pa]
    h_co : float
        Enthalpy at the condenser's outlet. [J/kg]
    pe : float
        Evaporating pressure. [Pa]
    q_x : float
        Heat given to the suction gas. [J/kg]
    skew : float
        Of its flux, from `exchange.exchange`. [-]
    mu : float
        Liquid viscosity. [Pa s]
    m : float
        Mass flow. [kg/s]

    Returns
    -------
    tuple
        residual, falling with the flow [-], pressure before the capillary [Pa], at its
        exit [Pa], choked (0/1).

    References
    ----------
    .. [1] `march.march` or `generalised_flow`, `march.pressure_after_loss`.
    """
    cap = c.capillary
    k_drier, k_stretch = c.drier.loss_coefficient_1_m4 * m * m, 0.0
    p_cap, fed, deficit = pc, 0.0, 0.0
    if k_drier > 0.0:
        p_cap, deficit = pressure_after_loss(tab, pc, h_co, pe, k_drier)
        fed = (1.0 - deficit) * k_drier
    if cap.stretch_length_m > 0.0:
        k_stretch = restriction_coefficient(cap, mu, m) * m * m
        if deficit == 0.0:
            p_cap, deficit = pressure_after_loss(tab, p_cap, h_co, pe, k_stretch)
            fed += (1.0 - deficit) * k_stretch
    if deficit == 0.0 and p_cap > pe and c.models.capillary_code == 1.0:
        # The correlation's flow as the length that would pass this one
        flow = generalised_flow(tab, p_cap, h_co, cap.bore_m, cap.length_m)
        z, p_exit, choked = cap.length_m * (flow / m) ** PER_FLOW, pe, 1.0
    elif deficit == 0.0 and p_cap > pe:
        p_start, z0, late = p_cap, 0.0, 0.0
        if c.models.flashing_code == 1.0:
            p_start, z0, late = metastable_inlet(
                tab, p_cap, h_co, pe, m, cap.bore_m, cap.roughness_m, cap.entrance_loss_fraction,
                cap.inlet_length_m, 1.0,
            )  # fmt: skip
        # Never quite without heat: one and the same march for all states of the bond.
        z, _, p_exit, _, _, _, choked = march(
            tab, p_start, h_co, pe, max(q_x, LEAST_HEAT), m, cap.bore_m, cap.roughness_m,
            cap.entrance_loss_fraction if late == 0.0 else NO_ENTRANCE,
            cap.inlet_length_m - z0, cap.bonded_length_m, skew, BOND_STEPS, TWO_PHASE_STEPS,
        )  # fmt: skip
        z += z0
    else:
        z, p_exit, choked = -(1.0 + cap.entrance_loss_fraction) * cap.bore_m / 0.02, pe, 0.0
    flux = m / (0.25 * pi * cap.bore_m**2)
    f = churchill(flux * cap.bore_m / mu, cap.roughness_m / cap.bore_m)
    per_length = f * flux * flux / (2.0 * cap.bore_m)
    needed = z + fed / per_length
    length = cap.length_m + (k_drier + k_stretch) / per_length
    return length_residual(needed, length), p_cap, p_exit, choked
