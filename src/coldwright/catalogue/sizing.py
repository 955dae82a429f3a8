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
    wall_coefficient,
)
from coldwright.catalogue.loops import frame_inward, set_loops
from coldwright.catalogue.prior_table import PRIOR, Drawing, PriorTable
from coldwright.catalogue.sized_parts import USUAL_W, compressors, exchangers
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
LEAST_FIRM = 0.1  # of `cycle.stability`: no maker ships a circuit that leaves its own design point
LEAST_APPROACH = 5.0  # evaporating below the freezer's air [K]
OPENING_M3 = 0.35  # net volume the table states doors and goods for


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
    """Column of one named score.

    Parameters
    ----------
    z : ndarray
        Standard normal scores, shape (n, scores). [-]
    name : str
        Of the score.

    Returns
    -------
    ndarray
        Shape (n,). [-]
    """
    return z[:, _AT[name]]


def uniform(z: np.ndarray, name: str) -> np.ndarray:
    """The same score as a uniform on 0..1.

    Parameters
    ----------
    z : ndarray
        Standard normal scores, shape (n, scores). [-]
    name : str
        Of the score.

    Returns
    -------
    ndarray
        Shape (n,), 0 to 1. [-]
    """
    return np.asarray(ndtr(z[:, _AT[name]]))


def start_bore(capacity: np.ndarray, med: Medium) -> np.ndarray:
    """First guess of a capillary's bore; the sizing moves it until the length is usual. [m]

    Flow goes about as bore^2.6 (generalised correlation, ASHRAE RP-762); the anchor is
    0.53 mm for 110 W of R134a, our own sizing result.

    Parameters
    ----------
    capacity : ndarray
        Cooling at the design point, shape (n,). [W]
    med : Medium
        Of the refrigerant.

    Returns
    -------
    ndarray
        Shape (n,). [m]
    """
    light = 150e3 / (1000.0 * med.tables.gas_constant)  # lighter gases carry more heat per kg
    return np.asarray(0.53e-3 * (capacity / 110.0 * light**0.25) ** (1.0 / 2.6))


def kinds(known: Known, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Condenser and evaporator code of each member.

    Parameters
    ----------
    known : Known
        What is known of the appliance.
    z : ndarray
        Standard normal scores, shape (n, scores). [-]

    Returns
    -------
    tuple of ndarray
        Codes of `CondenserKind` and `EvaporatorKind`, shape (n,). [-]
    """
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
    table: PriorTable = PRIOR,
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
    table : PriorTable
        What the quantities no plate tells are drawn from.

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
    fan_c = cond == int(CondenserKind.FAN)
    skin = cond == int(CondenserKind.SKIN)
    year = known.year
    drawn = Drawing(table, {name: score(z, name) for name in SCORES}, year, n)

    # Cabinet
    cab = c["cabinet"]
    stretch = drawn["volume_stretch"]
    v_ff = np.full(n, known.fresh_food_m3) if known.fresh_food_m3 == known.fresh_food_m3 else (
        f.fresh_food_m3.median * stretch)  # fmt: skip
    v_fz = np.full(n, known.freezer_m3) if known.freezer_m3 == known.freezer_m3 else (
        f.freezer_m3.median * stretch)  # fmt: skip
    if f.one_compartment:
        v_fz = np.where(v_fz > 0, v_fz, v_ff)
        v_ff = np.zeros(n)
    # Outside surface of a box with its walls
    area = 6.0 * (drawn["box_over_net"] * (v_ff + v_fz)) ** (2.0 / 3.0)
    ua = f.wall_factor * wall_coefficient(year) * drawn["wall"] * area
    part = v_fz ** (2.0 / 3.0) / (v_ff ** (2.0 / 3.0) + v_fz ** (2.0 / 3.0))
    side = drawn["freezer_side"]
    part = part * side / (part * side + 1.0 - part) if not f.one_compartment else np.ones(n)
    part = np.clip(part * drawn["split"], 0.03, 1.0)
    # The wall under a skin condenser is counted with the condenser, not twice
    panel = np.where(skin, drawn["panel_share"], 0.0) * ua
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
    cab["evaporator_fan_power_w"] = np.where(fan_e, drawn["fan_power"], 0.0)
    cab["condenser_fan_power_w"] = np.where(fan_c, drawn["fan_power"], 0.0)
    cab["controls_power_w"] = drawn["controls_power"]
    cab["heater_power_w"] = drawn.pick("heater_power", fan=fan_e)
    cab["opening_power_w"] = drawn["opening_power"] * (v_ff + v_fz) / OPENING_M3
    inside = cab["heater_power_w"] + cab["opening_power_w"] + cab["evaporator_fan_power_w"]
    load_ff = cab["fresh_food_conductance_w_k"] * (DESIGN_ROOM_K - t_ff)
    load_fz = cab["freezer_conductance_w_k"] * (DESIGN_ROOM_K - t_fz)
    load = load_ff + load_fz + inside

    # Design intentions
    te = f.evaporating_k.at(score(z, "evaporating"))
    te = np.minimum(te, t_fz - LEAST_APPROACH)
    rise = drawn.pick("rise", fan=fan_c)
    tc = DESIGN_ROOM_K + rise
    sub = np.minimum(drawn["subcooling"], drawn["subcooling_share"] * rise)
    run = f.run_fraction.at(score(z, "run_fraction"))
    inward = panel * (DESIGN_ROOM_K + drawn["panel_warmth"] * rise - t_fz)
    inward = inward + frame_inward(c["frame_loop"], DESIGN_ROOM_K, t_ff, t_fz, tc)
    capacity = (load + inward) / run

    # Air over the evaporator: shares so that both compartments hold their setting
    supply_drop = np.clip(drawn.pick("air_leaves", fan=fan_e), 0.4, 0.85)
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
    sh = np.minimum(drawn["superheat"], 0.5 * (t_return - te))

    compressors(c, drawn, known.frequency_hz, capacity, fan_c)
    exchangers(c, drawn, cond, evap, capacity, rise, panel)
    scale = (capacity / USUAL_W) ** drawn["size_growth"]
    c["drier"]["volume_m3"] = drawn["drier_volume"]
    c["drier"]["loss_coefficient_1_m4"] = drawn["drier_loss"]
    p = c["capillary"]
    p["length_m"] = 2.8  # where the sizing starts, as the bore
    p["bore_m"] = start_bore(capacity, med)
    p["stretch_bore_m"] = p["bore_m"]
    p["roughness_m"] = drawn["roughness"]
    p["entrance_loss_fraction"] = drawn["entrance_loss"]
    p["inlet_length_m"] = drawn["capillary_before"]
    p["bonded_length_m"] = drawn["capillary_bonded"]
    p["bond_conductance_w_m_k"] = 0.5 * scale
    c["accumulator"]["volume_m3"] = f.accumulator_m3.at(score(z, "accumulator")) * scale
    c["accumulator"]["half_full_wetness_fraction"] = drawn["accumulator_half_full"]
    c["suction_line"]["bore_m"] = drawn["suction_bore"]
    c["suction_line"]["length_m"] = drawn["suction_length"]
    c["suction_line"]["room_conductance_w_k"] = drawn["suction_loss"]
    d, e = c["condenser"], c["evaporator"]

    fill_with(c, med)
    if alter is not None:
        alter(c)
    s = np.zeros(n, SURROUNDINGS)
    s["room_k"], s["supply_v"] = DESIGN_ROOM_K, 0.0
    s["fresh_food_k"], s["freezer_k"] = t_ff, t_fz
    out, u, worst = np.zeros(n, STATE), np.zeros((n, 5)), np.zeros(n)
    known_v = np.full(n, known.displacement_m3)
    x = drawn["exchange"]

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
        log_weight -= 0.5 * (np.log(design_charge / known.charge_kg) / drawn["plate_misfit"]) ** 2
    firm = firmness_of(med, c, s, u) > LEAST_FIRM
    filled = known.charge_kg if known.charge_kg == known.charge_kg else design_charge
    c["charge_kg"] = filled * drawn["fill"]
    log_weight += plate_power_weight(known, out["compressor_power_w"], fan_e, table)
    good = (worst < 1e-5) & firm
    return Members(c, out, u, design_charge, log_weight, good, t_ff, t_fz)


def plate_power_weight(
    known: Known, power_w: np.ndarray, frost_free: np.ndarray, table: PriorTable = PRIOR
) -> np.ndarray:
    """Log weight of compressors against the plate's current or power.

    On an appliance that defrosts by itself the plate may state its heater, so there it
    only bounds the compressor from above; elsewhere it is also about 1.5 times the
    running power (judgement of ours).

    Parameters
    ----------
    known : Known
        What is known of the appliance.
    power_w : ndarray
        Running power of each, shape (n,). [W]
    frost_free : ndarray
        Whether it defrosts by itself, bool, shape (n,).

    Returns
    -------
    ndarray
        Log weight, shape (n,); 0 where the plate says nothing. [-]
    """
    if known.plate_power_w != known.plate_power_w:
        return np.zeros_like(power_w)
    ratio = np.log(np.maximum(power_w, 1.0) / known.plate_power_w)
    above = np.maximum(ratio + table.value("plate_power_over"), 0.0) / 0.10
    typical = (ratio - np.log(table.value("plate_power"))) / table.value("plate_power_spread")
    return np.asarray(np.where(frost_free, -0.5 * above**2, -0.5 * above**2 - 0.5 * typical**2))
