"""The air's side: natural convection, radiation and fans outside the exchangers; compartments.

All conductances here are of the whole surface; zones take their share by length.
"""

from __future__ import annotations

from math import exp

from coldwright.cycle.state import NO
from coldwright.refrigerant.compiled import kernel

STEFAN_BOLTZMANN = 5.670374419e-8  # CODATA 2018 [W/m2/K4]
AIR_CONDUCTIVITY = 0.0262  # dry air at 300 K, Incropera et al. (2007) table A.4 [W/m/K]
# g beta / (nu alpha) of air at 300 K, 1 atm: 9.81 / 300 / (15.9e-6 * 22.5e-6), same table.
RAYLEIGH_FACTOR = 9.14e7  # [1/m3/K]
LEAST_DIFFERENCE = 0.05  # keeps natural convection finite at rest, a judgement of ours [K]


@kernel
def radiation(emissivity, t_surface, t_room):
    """Linearised radiation coefficient to large surroundings.

    Parameters
    ----------
    emissivity : float
        Of the surface, times its view factor. [-]
    t_surface : float
        Surface temperature. [K]
    t_room : float
        Temperature of the surroundings. [K]

    Returns
    -------
    float
        Coefficient. [W/m2/K]

    References
    ----------
    .. [1] Incropera et al. (2007), eq. (1.9).
    """
    a = STEFAN_BOLTZMANN * emissivity
    return a * (t_surface * t_surface + t_room * t_room) * (t_surface + t_room)


@kernel
def vertical_plate(difference, height):
    """Natural convection on a vertical plate in air, laminar and turbulent.

    Parameters
    ----------
    difference : float
        Between surface and air, either sign. [K]
    height : float
        Of the plate. [m]

    Returns
    -------
    float
        Coefficient. [W/m2/K]

    References
    ----------
    .. [1] Churchill & Chu (1975), Int. J. Heat Mass Transfer 18, 1323, eq. for all
       Rayleigh numbers; Pr = 0.71.
    """
    ra = RAYLEIGH_FACTOR * max(abs(difference), LEAST_DIFFERENCE) * height**3
    nu = (0.825 + 0.324 * ra ** (1.0 / 6.0)) ** 2
    return nu * AIR_CONDUCTIVITY / height


@kernel
def wire_and_tube_shape(cond):
    """The numbers of `wire_and_tube` that do not depend on temperature.

    Parameters
    ----------
    cond : record
        `circuit.records.Condenser`.

    Returns
    -------
    tuple
        sw [-], the two parts of phi [-, K^0.5], the shape factor [-], the coefficient
        per (temperature difference)^0.25 [W/m2/K^1.25].

    References
    ----------
    .. [1] Tagliafico & Tanda (1997), Int. J. Refrigeration 20, 274; coefficients from
       memory, its value at one case kept in tests.
    """
    if cond.kind_code != 0.0:
        return 0.0, 0.0, 0.0, 0.0, 0.0
    h, tube = cond.height_m, cond.tube_diameter_m
    st = (cond.tube_pitch_m - tube) / tube
    sw = (cond.wire_pitch_m - cond.wire_diameter_m) / cond.wire_diameter_m
    a = (28.2 / h) ** 0.4 * sw**0.9 / st
    b = (28.2 / h) ** 0.8 * 264.0**0.5 * sw**-1.5 * st**-0.5
    ra = RAYLEIGH_FACTOR * h**3 * h / tube
    return sw, a, b, 0.45 * (tube / h) ** 0.25, 0.66 * ra**0.25 * AIR_CONDUCTIVITY / h


@kernel
def wire_and_tube(shape, difference):
    """Natural convection on a vertical wire-and-tube exchanger in air.

    Parameters
    ----------
    shape : tuple
        From `wire_and_tube_shape`.
    difference : float
        Between tube and air. [K]

    Returns
    -------
    float
        Coefficient on the whole surface. [W/m2/K]

    References
    ----------
    .. [1] Tagliafico & Tanda (1997), Int. J. Refrigeration 20, 274; coefficients from
       memory, its value at one case kept in tests.
    """
    dt = max(abs(difference), LEAST_DIFFERENCE)
    sw, a, b, edge, gain = shape
    root = dt**0.5
    phi = a + b / root
    return gain * root**0.5 * (1.0 - (1.0 - edge) * exp(-sw / phi))


@kernel
def condenser_conductance(cond, shape, t_surface, t_room):
    """Whole-surface conductance of a condenser to the room, by its kind.

    Parameters
    ----------
    cond : record
        `circuit.records.Condenser`.
    shape : tuple
        From `wire_and_tube_shape`.
    t_surface : float
        Mean surface temperature of the zone. [K]
    t_room : float
        Room temperature. [K]

    Returns
    -------
    float
        Conductance. [W/K]

    References
    ----------
    .. [1] Kinds: Tagliafico & Tanda (1997); Churchill & Chu (1975); fan: a coefficient
       and the heat capacity of its air, cross-flow with one side well mixed,
       C (1 - exp(-UA / C)), Incropera et al. (2007) table 11.3.
    """
    d = t_surface - t_room
    area = cond.area_m2 * cond.surface_efficiency_fraction
    if cond.kind_code == 2.0:
        ua = area * cond.fan_coefficient_w_m2_k * cond.air_factor_fraction
        c = cond.air_capacity_w_k * cond.air_factor_fraction
        return c * (1.0 - exp(-ua / c))
    h = radiation(cond.emissivity_fraction, t_surface, t_room)
    if cond.kind_code == 1.0:
        h += vertical_plate(d, cond.height_m)
    else:
        h += wire_and_tube(shape, d)
    return area * h * cond.air_factor_fraction


@kernel
def evaporator_conductance(evap, air_capacity, t_surface, t_air):
    """Whole-surface conductance of an evaporator to its air, frost included.

    Parameters
    ----------
    evap : record
        `circuit.records.Evaporator`.
    air_capacity : float
        Heat capacity rate of the air over it. [W/K]
    t_surface : float
        Surface temperature. [K]
    t_air : float
        Air temperature. [K]

    Returns
    -------
    float
        Conductance. [W/K]

    References
    ----------
    .. [1] Churchill & Chu (1975) with radiation for plate and cold wall; fan as for
       the condenser.
    """
    area = evap.area_m2 * evap.surface_efficiency_fraction
    if evap.kind_code == 2.0:
        ua = area * evap.fan_coefficient_w_m2_k * evap.air_factor_fraction
        ua = ua / (1.0 + ua * evap.frost_resistance_k_w)
        c = air_capacity * evap.air_factor_fraction
        return c * (1.0 - exp(-ua / c))
    h = radiation(evap.emissivity_fraction, t_surface, t_air)
    h += vertical_plate(t_air - t_surface, evap.height_m)
    ua = area * h * evap.air_factor_fraction
    return ua / (1.0 + ua * evap.frost_resistance_k_w)


@kernel
def compartments(c, s, supply, floating):
    """Compartment temperatures, return air and load.

    Imposed temperatures are returned as they are; a floating cabinet finds them
    from the temperature of the air that leaves the evaporator.

    Parameters
    ----------
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    supply : float
        Air leaving the evaporator, used when floating. [K]
    floating : float
        YES where the cabinet's balance is solved, else NO. [-]

    Returns
    -------
    tuple
        fresh-food [K], freezer [K], return air [K], load [W], air duty [W].

    References
    ----------
    .. [1] Steady heat balance of each compartment.
    """
    k = c.cabinet
    share = k.air_share_fraction
    inside = k.heater_power_w + k.opening_power_w + s.heat_load_w + k.evaporator_fan_power_w
    ua_all = k.fresh_food_conductance_w_k + k.freezer_conductance_w_k
    ff_part = k.fresh_food_conductance_w_k / ua_all
    if floating == NO:
        tf, tz = s.fresh_food_k, s.freezer_k
        load = (
            k.fresh_food_conductance_w_k * (s.room_k - tf)
            + k.freezer_conductance_w_k * (s.room_k - tz)
            + inside
        )
        return tf, tz, share * tf + (1.0 - share) * tz, load, 0.0
    cap = k.air_capacity_w_k * c.evaporator.air_factor_fraction
    cf, cz = share * cap, (1.0 - share) * cap
    uf, uz = k.fresh_food_conductance_w_k, k.freezer_conductance_w_k
    tf = s.room_k
    if share > 0.0:
        tf = (uf * s.room_k + ff_part * inside + cf * supply) / (uf + cf)
    tz = (uz * s.room_k + (1.0 - ff_part) * inside + cz * supply) / (uz + cz)
    duty = cf * (tf - supply) + cz * (tz - supply)
    load = uf * (s.room_k - tf) + uz * (s.room_k - tz) + inside
    return tf, tz, share * tf + (1.0 - share) * tz, load, duty
