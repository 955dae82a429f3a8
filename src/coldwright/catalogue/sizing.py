"""From standard normal scores to whole appliances.

Each member is a row of scores. The scores set the maker's intentions (run
fraction, condensing rise, evaporating temperature ...) and the quantities no
plate tells; `cycle.solver.design` then sizes the circuit to them. Scores keep the
prior exactly standard normal, which the sampler in `diagnosis` relies on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from coldwright.catalogue.families import (
    Family,
    Level,
    Spread,
    indicated_efficiency,
    motor_efficiency,
    wall_coefficient,
)
from coldwright.catalogue.loops import frame_inward, oil_coolers, set_loops
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import CondenserKind, EvaporatorKind, Position
from coldwright.circuit.vector import CIRCUIT, SURROUNDINGS
from coldwright.cycle.batches import in_batches
from coldwright.cycle.medium import Medium, fill_with
from coldwright.cycle.solver.design import size_range
from coldwright.cycle.solver.stability import firmness_of
from coldwright.cycle.state import STATE

SCORES = (
    "severity", "which", "condenser", "evaporator", "volume", "wall", "split", "run_fraction",
    "evaporating", "rise", "subcooling", "superheat", "exchange", "indicated", "motor", "idle",
    "clearance", "shell", "suction", "discharge", "oil", "shell_volume", "holdup", "holdup_split",
    "fill", "roughness", "fans", "heater", "opening", "air", "accumulator", "power_factor",
    "leak_work", "setting", "room",
    "oil_cooler", "frame_loop", "frame_position", "frame_size", "frame_leak", "first_section",
    "second",  # severity of the second of two faults at once
)  # fmt: skip
DIMENSIONS = len(SCORES)
LOOP_SCORES = SCORES[35:41]
_AT = {name: i for i, name in enumerate(SCORES)}

DESIGN_ROOM_K = 298.15  # the healthy range is stated at 25 degC
RISE = {
    CondenserKind.STATIC: Level(13.5, 2.2, 8.5, 19.5),
    CondenserKind.SKIN: Level(13.5, 2.3, 8.5, 19.5),
    CondenserKind.FAN: Level(11.0, 1.8, 8.2, 17.0),
}
SUBCOOLING = Level(3.8, 1.1, 1.5, 8.0)
SUPERHEAT = Level(2.6, 1.0, 0.8, 6.0)
EXCHANGE = Level(0.80, 0.06, 0.60, 0.93)
SKIN_SHARE = 0.15  # of the cabinet's heat transmission that lies under a skin condenser
SKIN_WARMTH = 0.7  # mean of the panel's rise over the condensing rise
LEAST_FIRM = 0.1  # `solver.stability`: no maker ships a circuit that leaves its own design point
LEAST_APPROACH = 5.0  # evaporating below the freezer's air [K]
SHELL_GROWTH = 0.85  # power of the compressor's input
FILL = 0.03  # log sd of the factory's charge against the plate (R12 era: 7 g in 200)
HOLDUP = 0.18  # log sd of the exchangers' volume where no plate charge ties it
CHARGE_MISFIT = 0.06  # log sd allowed where the volumes cannot follow the plate


@dataclass(frozen=True, slots=True)
class Known:
    """What the plate and the eye fix; None or NaN where they do not."""

    family: Family
    year: float
    charge_kg: float
    fresh_food_m3: float
    freezer_m3: float
    displacement_m3: float
    plate_power_w: float  # bounds the compressor; on frost-free appliances from above only
    frequency_hz: float
    condenser: CondenserKind | None
    evaporator: EvaporatorKind | None
    layout: Layout | None = Layout.PLAIN  # None: weighed by what is usual
    frame_position: Position | None = None


@dataclass(frozen=True, slots=True)
class Members:
    """Sized healthy appliances, all arrays of the same first length."""

    circuits: np.ndarray  # dtype CIRCUIT
    design_states: np.ndarray  # dtype STATE, at the design point
    unknowns: np.ndarray  # (n, 5), solution at the design point
    design_charge_kg: np.ndarray
    log_weight: np.ndarray  # agreement with the plate
    good: np.ndarray  # bool: sized within tolerance
    set_fresh_food_k: np.ndarray
    set_freezer_k: np.ndarray

    def first(self, count: int) -> Members:
        """The first so many of them.

        Parameters
        ----------
        count : int
            How many. [-]
        """
        return Members(
            self.circuits[:count], self.design_states[:count], self.unknowns[:count],
            self.design_charge_kg[:count], self.log_weight[:count], self.good[:count],
            self.set_fresh_food_k[:count], self.set_freezer_k[:count],
        )  # fmt: skip


def _choose(shares, u: np.ndarray) -> np.ndarray:  # type: ignore[no-untyped-def]
    codes = np.array([int(k) for k, _ in shares])
    edges = np.cumsum([w for _, w in shares])
    return codes[np.minimum(np.searchsorted(edges / edges[-1], u), len(codes) - 1)]


def score(z: np.ndarray, name: str) -> np.ndarray:
    """Column of one named score."""
    return z[:, _AT[name]]


def uniform(z: np.ndarray, name: str) -> np.ndarray:
    """The same score as a uniform on 0..1."""
    return np.asarray(ndtr(z[:, _AT[name]]))


def start_bore(capacity: np.ndarray, med: Medium) -> np.ndarray:
    """First guess of a capillary's bore; the sizing moves it until the length is usual. [m]

    Flow goes about as bore^2.6 (generalised correlation, ASHRAE RP-762); the anchor is
    0.53 mm for 110 W of R134a, our own sizing result.
    """
    light = 150e3 / (1000.0 * med.tables.gas_constant)  # lighter gases carry more heat per kg
    return np.asarray(0.53e-3 * (capacity / 110.0 * light**0.25) ** (1.0 / 2.6))


def kinds(known: Known, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Condenser and evaporator code of each member."""
    f = known.family
    n = z.shape[0]
    if known.condenser is not None:
        cond = np.full(n, int(known.condenser))
    else:
        shares = f.condensers_before_1995 if known.year < 1995 else f.condensers
        cond = _choose(shares, uniform(z, "condenser"))
    if known.evaporator is not None:
        evap = np.full(n, int(known.evaporator))
    else:
        shares_e = f.evaporators_before_1990 if known.year < 1990 else f.evaporators
        evap = _choose(shares_e, uniform(z, "evaporator"))
    return cond, evap


def size_members(
    med: Medium,
    known: Known,
    z: np.ndarray,
    alter: Callable[[np.ndarray], None] | None = None,
) -> Members:
    """Build one healthy appliance per row of scores.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil and void model.
    known : Known
        What plate and eye fix.
    z : ndarray
        Scores, shape (n, DIMENSIONS). [-]
    alter : callable, optional
        Changes the circuits in place before they are sized: other closures than ours.

    Returns
    -------
    Members
        Circuits with their design states.

    References
    ----------
    .. [1] Judgement of ours, see `families` and docs/catalogue-families.md.
    """
    n = z.shape[0]
    f = known.family
    c = np.zeros(n, CIRCUIT)
    cond, evap = kinds(known, z)
    fan_e = evap == int(EvaporatorKind.FAN)
    cold = evap == int(EvaporatorKind.COLD_WALL)
    fan_c = cond == int(CondenserKind.FAN)
    skin = cond == int(CondenserKind.SKIN)
    year = known.year

    # Cabinet
    cab = c["cabinet"]
    stretch = np.exp(0.15 * np.clip(score(z, "volume"), -3, 3))
    v_ff = np.full(n, known.fresh_food_m3) if known.fresh_food_m3 == known.fresh_food_m3 else (
        f.fresh_food_m3.median * stretch)  # fmt: skip
    v_fz = np.full(n, known.freezer_m3) if known.freezer_m3 == known.freezer_m3 else (
        f.freezer_m3.median * stretch)  # fmt: skip
    if f.one_compartment:
        v_fz = np.where(v_fz > 0, v_fz, v_ff)
        v_ff = np.zeros(n)
    area = 6.0 * (1.45 * (v_ff + v_fz)) ** (2.0 / 3.0)  # outside surface of a box with its walls
    wall = f.wall_factor * wall_coefficient(year) * np.exp(0.13 * score(z, "wall"))
    ua = wall * area
    part = v_fz ** (2.0 / 3.0) / (v_ff ** (2.0 / 3.0) + v_fz ** (2.0 / 3.0))
    part = part * 0.75 / (part * 0.75 + 1.0 - part) if not f.one_compartment else np.ones(n)
    part = np.clip(part * np.exp(0.08 * score(z, "split")), 0.03, 1.0)
    # The wall under a skin condenser is counted with the condenser, not twice
    panel = np.where(skin, SKIN_SHARE, 0.0) * ua
    own = {name: score(z, name) for name in LOOP_SCORES}
    leak = set_loops(c, known.layout, known.frame_position, f, year, v_ff + v_fz, 1.0 - part, own)
    cab["freezer_conductance_w_k"] = (ua - panel) * part - leak * part
    cab["fresh_food_conductance_w_k"] = (ua - panel) * (1.0 - part) - leak * (1.0 - part)
    t_ff = f.fresh_food_set_k.at(score(z, "setting"))
    t_fz = f.freezer_set_k.at(score(z, "setting"))
    if f.one_compartment:
        cab["fresh_food_conductance_w_k"] = 0.0
        t_ff = t_fz.copy()
    cab["fresh_food_set_k"], cab["freezer_set_k"] = t_ff, t_fz
    size = (v_ff + v_fz) / 0.35
    fans = Spread(1.0, 0.25).at(score(z, "fans"))
    fan_watts = np.interp(year, (1975, 2000, 2015), (12.0, 8.0, 4.0))
    cab["evaporator_fan_power_w"] = np.where(fan_e, fan_watts * fans, 0.0)
    cab["condenser_fan_power_w"] = np.where(fan_c, fan_watts * fans, 0.0)
    cab["controls_power_w"] = np.interp(year, (1985, 2000, 2015), (0.0, 1.0, 2.5)) * fans
    cab["heater_power_w"] = np.where(fan_e, 6.0, 0.5) * Spread(1.0, 0.4).at(score(z, "heater"))
    cab["opening_power_w"] = 6.0 * size * Spread(1.0, 0.5).at(score(z, "opening"))
    inside = cab["heater_power_w"] + cab["opening_power_w"] + cab["evaporator_fan_power_w"]
    load_ff = cab["fresh_food_conductance_w_k"] * (DESIGN_ROOM_K - t_ff)
    load_fz = cab["freezer_conductance_w_k"] * (DESIGN_ROOM_K - t_fz)
    load = load_ff + load_fz + inside

    # Design intentions
    te = f.evaporating_k.at(score(z, "evaporating"))
    te = np.minimum(te, t_fz - LEAST_APPROACH)
    rise = np.where(
        fan_c, RISE[CondenserKind.FAN].at(score(z, "rise")),
        RISE[CondenserKind.STATIC].at(score(z, "rise")),
    )  # fmt: skip
    tc = DESIGN_ROOM_K + rise
    sub = np.minimum(SUBCOOLING.at(score(z, "subcooling")), 0.6 * rise)
    run = f.run_fraction.at(score(z, "run_fraction"))
    inward = panel * (DESIGN_ROOM_K + SKIN_WARMTH * rise - t_fz)
    inward = inward + frame_inward(c["frame_loop"], DESIGN_ROOM_K, t_ff, t_fz, tc)
    capacity = (load + inward) / run

    # Air over the evaporator: shares so that both compartments hold their setting
    supply_drop = np.where(fan_e, 0.56, 0.72) * np.exp(0.10 * score(z, "air"))
    supply_drop = np.clip(supply_drop, 0.4, 0.85)
    supply = t_fz - supply_drop * 0.8 * (t_fz - te)
    share = np.zeros(n)
    if not f.one_compartment:
        ff_load = load_ff + (1.0 - part) * inside
        fz_load = load_fz + part * inside
        g_ff, g_fz = ff_load / (t_ff - supply), fz_load / (t_fz - supply)
        share = g_ff / (g_ff + g_fz)
    t_return = share * t_ff + (1.0 - share) * t_fz
    cab["air_share_fraction"] = share
    cab["air_capacity_w_k"] = capacity / np.maximum(t_return - supply, 1.0)
    sh = np.minimum(SUPERHEAT.at(score(z, "superheat")), 0.5 * (t_return - te))

    # Compressor
    k = c["compressor"]
    k["displacement_m3"] = 4e-6 * capacity / 110.0
    k["speed_1_s"] = 0.962 * known.frequency_hz  # two-pole motor at 3.8 % slip
    k["clearance_fraction"] = Spread(0.028, 0.18).at(score(z, "clearance"))
    k["reexpansion_exponent"] = 1.05
    k["flow_factor_fraction"] = 1.0
    k["leak_work_share_fraction"] = np.clip(0.5 + 0.15 * score(z, "leak_work"), 0.1, 0.9)
    eta_i = indicated_efficiency(year) * np.exp(0.035 * score(z, "indicated"))
    eta_m = motor_efficiency(year) * np.exp(0.035 * score(z, "motor"))
    k["indicated_efficiency_fraction"] = np.clip(eta_i, 0.5, 0.93)
    k["motor_efficiency_fraction"] = np.clip(eta_m, 0.45, 0.93)
    k["idle_power_w"] = 0.13 * capacity * np.interp(year, (1985, 2015), (1.25, 0.75)) * (
        Spread(1.0, 0.22).at(score(z, "idle")))  # fmt: skip
    scale = (capacity / 110.0) ** 0.4
    # Shells grow with the input they must give away: no maker lets the windings cook
    heat = (capacity / 110.0 * 0.64 / (eta_i * eta_m)) ** SHELL_GROWTH
    k["suction_conductance_w_k"] = 0.38 * heat * Spread(1.0, 0.25).at(score(z, "suction"))
    k["discharge_conductance_w_k"] = 0.65 * heat * Spread(1.0, 0.25).at(score(z, "discharge"))
    k["shell_conductance_w_k"] = np.where(fan_c, 3.0, 2.3) * heat * (
        Spread(1.0, 0.14).at(score(z, "shell")))  # fmt: skip
    k["shell_volume_m3"] = 1.7e-3 * scale * Spread(1.0, 0.15).at(score(z, "shell_volume"))
    k["oil_mass_kg"] = 0.22 * scale * Spread(1.0, 0.2).at(score(z, "oil"))
    k["power_factor_fraction"] = np.clip(
        np.interp(year, (1980, 2015), (0.72, 0.88)) + 0.05 * score(z, "power_factor"), 0.5, 0.99
    )
    c["discharge_line"]["conductance_w_k"] = 0.25 * scale
    c["discharge_line"]["volume_m3"] = 8e-6

    oil_coolers(c, heat, scale)

    # Exchangers; areas are found by the sizing
    hold = np.exp(HOLDUP * score(z, "holdup"))
    tilt = np.exp(0.15 * score(z, "holdup_split"))
    d = c["condenser"]
    d["kind_code"] = cond
    d["tube_bore_m"] = np.where(skin, 3.4e-3, 3.4e-3)
    d["tube_length_m"] = np.where(skin, 13.0, np.where(fan_c, 9.0, 10.0)) * scale**1.5 * hold * tilt
    d["volume_m3"] = 0.25 * np.pi * d["tube_bore_m"] ** 2 * d["tube_length_m"]
    d["area_m2"] = capacity / 110.0
    d["height_m"] = np.where(skin, 0.9, 0.8)
    d["tube_diameter_m"], d["wire_diameter_m"] = 4.76e-3, 1.5e-3
    d["tube_pitch_m"], d["wire_pitch_m"] = 50e-3, 6e-3
    d["emissivity_fraction"] = 0.85
    d["surface_efficiency_fraction"] = np.where(skin, 0.75, 0.95)
    d["fan_coefficient_w_m2_k"] = 25.0
    # Air so that it takes half of the condensing rise
    d["air_capacity_w_k"] = np.where(fan_c, 1.35 * capacity / (0.5 * rise), 0.0)
    d["inward_conductance_w_k"] = panel
    d["air_factor_fraction"] = 1.0
    c["drier"]["volume_m3"] = 10e-6
    c["drier"]["loss_coefficient_1_m4"] = 4e11
    p = c["capillary"]
    p["length_m"] = 2.8
    p["bore_m"] = start_bore(capacity, med)
    p["stretch_bore_m"] = p["bore_m"]
    p["roughness_m"] = 0.6e-6 * np.exp(0.4 * np.clip(score(z, "roughness"), -2.5, 2.5))
    p["entrance_loss_fraction"] = 0.5
    p["inlet_length_m"] = 0.4
    p["bonded_length_m"] = 1.5
    p["bond_conductance_w_m_k"] = 0.5 * scale
    e = c["evaporator"]
    e["kind_code"] = evap
    e["tube_bore_m"] = np.where(fan_e, 7.0e-3, np.where(cold, 6.5e-3, 6.0e-3))
    e["tube_length_m"] = np.where(fan_e, 9.5, np.where(cold, 14.0, 10.5)) * scale**1.5 * hold / tilt
    e["volume_m3"] = 0.25 * np.pi * e["tube_bore_m"] ** 2 * e["tube_length_m"]
    e["area_m2"] = np.where(fan_e, 1.3, 0.9) * capacity / 110.0
    e["height_m"] = np.where(fan_e, 0.2, np.where(cold, 0.7, 0.3))
    e["emissivity_fraction"] = np.where(fan_e, 0.0, 0.85)
    e["surface_efficiency_fraction"] = np.where(cold, 0.75, 0.88)
    e["fan_coefficient_w_m2_k"] = 18.0
    e["frost_resistance_k_w"] = 0.008 * 110.0 / capacity
    e["air_factor_fraction"] = 1.0
    c["accumulator"]["volume_m3"] = f.accumulator_m3.at(score(z, "accumulator")) * scale
    c["accumulator"]["half_full_wetness_fraction"] = 0.10
    c["suction_line"]["bore_m"] = 6.0e-3
    c["suction_line"]["length_m"] = 2.5
    c["suction_line"]["room_conductance_w_k"] = 0.12

    fill_with(c, med)
    if alter is not None:
        alter(c)
    s = np.zeros(n, SURROUNDINGS)
    s["room_k"], s["supply_v"] = DESIGN_ROOM_K, 0.0
    s["fresh_food_k"], s["freezer_k"] = t_ff, t_fz
    out, u, worst = np.zeros(n, STATE), np.zeros((n, 5)), np.zeros(n)
    known_v = np.full(n, known.displacement_m3)
    x = EXCHANGE.at(score(z, "exchange"))

    def size_piece(first: int, last: int) -> None:
        size_range(first, last, med, c, s, te, tc, sub, sh, x, capacity, known_v, out, u, worst)

    in_batches(size_piece, n)
    log_weight = np.zeros(n)
    design_charge = c["charge_kg"].copy()
    if known.charge_kg == known.charge_kg:
        # Let the exchangers' volumes follow the plate, as the maker's drawing did.
        follow = out["charge_condenser_kg"] + out["charge_evaporator_kg"]
        rest = design_charge - follow
        factor = np.clip((known.charge_kg - rest) / np.maximum(follow, 1e-6), 0.4, 2.5)
        factor = np.where(np.isfinite(factor), factor, 1.0)
        for part_of in (d, e):
            part_of["volume_m3"] *= factor
            part_of["tube_length_m"] *= factor
        in_batches(size_piece, n)
        design_charge = c["charge_kg"].copy()
        log_weight -= 0.5 * (np.log(design_charge / known.charge_kg) / CHARGE_MISFIT) ** 2
    firm = firmness_of(med, c, s, u) > LEAST_FIRM
    filled = known.charge_kg if known.charge_kg == known.charge_kg else design_charge
    c["charge_kg"] = filled * np.exp(FILL * score(z, "fill"))
    log_weight += plate_power_weight(known, out["compressor_power_w"], fan_e)
    good = (worst < 1e-5) & firm
    return Members(c, out, u, design_charge, log_weight, good, t_ff, t_fz)


def plate_power_weight(known: Known, power_w: np.ndarray, frost_free: np.ndarray) -> np.ndarray:
    """Log weight of compressors against the plate's current or power.

    On an appliance that defrosts by itself the plate may state its heater, so there it
    only bounds the compressor from above; elsewhere it is also about 1.5 times the
    running power (judgement of ours).
    """
    if known.plate_power_w != known.plate_power_w:
        return np.zeros_like(power_w)
    ratio = np.log(np.maximum(power_w, 1.0) / known.plate_power_w)
    above = np.maximum(ratio + 0.05, 0.0) / 0.10
    typical = (ratio - np.log(0.65)) / 0.28
    return np.asarray(np.where(frost_free, -0.5 * above**2, -0.5 * above**2 - 0.5 * typical**2))
