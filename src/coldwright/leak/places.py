"""The places of this circuit where it can leak, each with its share before the search."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from coldwright.catalogue import leak_places as book
from coldwright.catalogue.leak_methods import Reach
from coldwright.leak.rates import SECONDS_PER_YEAR
from coldwright.leak.sides import HIGH, LOW
from coldwright.readings.job import Job

USUAL_AGE_YEARS = 10.0
_FOAM_LOW = "low side in foam"
_KIND_DEFAULTS = {  # commonest condenser and evaporator by kind (catalogue.families)
    "single_door": ("static", "plate"),
    "top_mount": ("static", "fan"),
    "bottom_mount": ("static", "fan"),
    "side_by_side": ("fan", "fan"),
    "upright_freezer": ("static", "plate"),
    "chest_freezer": ("skin", "cold_wall"),
    "compact": ("static", "plate"),
}


@dataclass(frozen=True, slots=True)
class Place:
    """One place. `unit` is what is mended or by-passed as one piece if it leaks there."""

    identifier: str
    side: str
    reach: Reach
    access: tuple[str, ...]  # keys of ACCESS_MINUTES
    unit: str
    share: float
    why: str


@dataclass(frozen=True, slots=True)
class Layout:
    """What the search takes the circuit to be, and what it assumed for that."""

    places: tuple[Place, ...]
    nothing: float  # chance that there is no leak to find
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Seat:
    key: str
    side: str
    reach: Reach
    access: tuple[str, ...]
    unit: str = ""


def layout_of(job: Job, shop: Mapping[str, int] | None = None) -> Layout:
    """Places and shares for a job.

    Parameters
    ----------
    job : Job
        Plate, circuit, history, signs and what is known of the leak.
    shop : mapping of str to int, optional
        How often the shop found a leak at each place before. [-]

    Returns
    -------
    Layout
        Places with their shares [-], and notes.
    """
    notes: list[str] = []
    seats = _seats(job, notes)
    age = _age_years(job, notes)
    repaired = bool(job.history.earlier_repair)
    weights: dict[str, float] = {}
    whys: dict[str, str] = {}
    for place, seat in seats.items():
        weights[place], whys[place] = _weight(job, seat.key, age, repaired)
    weights = _shop(weights, shop or {}, notes)
    weights = _signs(job, weights, seats)
    total = sum(weights.values())
    nothing = book.NOTHING_AFTER_REPAIR if repaired else book.NOTHING_THERE
    places = tuple(
        Place(p, s.side, s.reach, s.access, s.unit or p, weights[p] / total, whys[p])
        for p, s in seats.items()
    )
    return Layout(places, nothing, tuple(notes))


def _seats(job: Job, notes: list[str]) -> dict[str, _Seat]:
    """Every place of the circuit in the order of flow, with how it is got at."""
    usual = _KIND_DEFAULTS[job.plate.built_as]
    condenser = job.circuit.condenser or usual[0]
    evaporator = job.circuit.evaporator or usual[1]
    if job.circuit.condenser is None:
        notes.append(f"Condenser not seen: taken as {condenser}.")
    if job.circuit.evaporator is None:
        notes.append(f"Evaporator not seen: taken as {evaporator.replace('_', ' ')}.")
    layout = job.circuit.layout or "plain"
    rear, inside = ("pulled_out", "rear_cover"), ("evaporator_cover",)
    out = ("pulled_out",)
    cool = inside if evaporator == "fan" else ()
    o, f = Reach.OPEN, Reach.FOAM
    sunk = evaporator == "cold_wall"
    wall = f if condenser == "skin" else o
    seats = {
        "compressor": _Seat("compressor", LOW, o, rear),
        "compressor_joint": _Seat("compressor_joint", LOW, o, rear),
        "process_tube": _Seat("process_tube", LOW, o, rear),
        "discharge_line": _Seat("discharge_line", HIGH, o, rear),
        "discharge_line_joint": _Seat("discharge_line_joint", HIGH, o, rear),
    }
    if "oil_cooler" in layout:
        seats["oil_cooler"] = _Seat("oil_cooler", HIGH, o, rear)
    if evaporator == "fan":
        seats["drain_pan_loop"] = _Seat("drain_pan_loop", HIGH, o, rear)
    at = rear if condenser == "fan" else out
    seats["condenser"] = _Seat(
        f"condenser_{condenser}", HIGH, wall, at, "condenser in foam" if wall is f else ""
    )
    seats["condenser_joint"] = _Seat("condenser_joint", HIGH, o, rear)
    if "frame_loop" in layout:
        seats["frame_loop"] = _Seat("frame_loop", HIGH, f, ())
        seats["frame_loop_joint"] = _Seat("condenser_joint", HIGH, o, rear)
    seats |= {
        "drier": _Seat("drier", HIGH, o, rear),
        "drier_joint": _Seat("drier_joint", HIGH, o, rear),
        "capillary": _Seat("capillary", HIGH, o, rear),
        "suction_exchanger": _Seat("suction_exchanger", LOW, f, (), _FOAM_LOW),
    }
    unit, deep = (_FOAM_LOW, f) if sunk else ("", o)
    seats |= {
        "capillary_joint": _Seat("capillary_joint", LOW, deep, () if sunk else cool, unit),
        "evaporator": _Seat(f"evaporator_{evaporator}", LOW, deep, () if sunk else cool, unit),
        "evaporator_joint": _Seat("evaporator_joint", LOW, deep, () if sunk else cool, unit),
        "suction_line": _Seat("suction_line", LOW, o, (*rear, "lagging")),
        "suction_line_joint": _Seat("suction_line_joint", LOW, o, rear),
    }
    return seats


def _age_years(job: Job, notes: list[str]) -> float:
    if job.history.age_s is not None:
        return job.history.age_s / SECONDS_PER_YEAR
    notes.append(f"Age not given: {USUAL_AGE_YEARS:.0f} years taken.")
    return USUAL_AGE_YEARS


def _weight(job: Job, key: str, age: float, repaired: bool) -> tuple[float, str]:
    if key == "frame_loop":
        steel = {"steel": 1.0, "copper": 0.0}.get(
            job.leak.frame_loop_material or "", book.UNKNOWN_LOOP_STEEL
        )
        kinds = [(steel, "frame_loop_steel"), (1.0 - steel, "frame_loop_copper")]
        parts = [(s, *_weight(job, k, age, repaired)) for s, k in kinds]
        return sum(s * w for s, w, _ in parts), max(parts)[2]
    row = book.PLACE_WEIGHTS[key]
    weight = row.weight * (max(age, 0.5) / USUAL_AGE_YEARS) ** row.age_exponent
    weight *= row.after_repair if repaired else 1.0
    if key == "process_tube" and job.leak.left_on_tap:
        weight *= book.LEFT_ON_TAP
    if key.startswith("evaporator_") and key != "evaporator_joint":
        material = job.leak.evaporator_material
        if material == "aluminium":
            weight *= book.ALUMINIUM_EVAPORATOR
        elif material in ("copper", "steel"):
            weight *= book.OTHER_EVAPORATOR
    return weight, row.why


def _shop(
    weights: Mapping[str, float], shop: Mapping[str, int], notes: list[str]
) -> dict[str, float]:
    """A Dirichlet mean: our shares count as `SHOP_WEIGHT` finds beside the shop's own."""
    total = sum(weights.values())
    finds = sum(n for place, n in shop.items() if place in weights)
    if finds:
        notes.append(f"{finds} finds of this shop are counted in.")
    return {
        place: (book.SHOP_WEIGHT * w / total + shop.get(place, 0)) / (book.SHOP_WEIGHT + finds)
        for place, w in weights.items()
    }


def _signs(job: Job, weights: Mapping[str, float], seats: Mapping[str, _Seat]) -> dict[str, float]:
    moved = dict(weights)
    for key, factor in book.SIGN_FACTORS.items():
        sign = job.sign(key)
        if sign is None or not sign.seen:
            continue
        if sign.place is None:
            if key == "oil_trace":
                for place, seat in seats.items():
                    moved[place] *= book.SIGN_UNPLACED_IN_REACH if seat.reach is Reach.OPEN else 1
            continue
        root = sign.place.removesuffix("_joint")
        for place in moved:
            if place == sign.place:
                moved[place] *= factor
            elif place.removesuffix("_joint") == root:
                moved[place] *= book.NEIGHBOUR_FACTOR
    cold = job.sign("door_frame_cold_or_sweating")
    if cold is not None and cold.seen and "frame_loop" in moved:
        moved["frame_loop"] *= book.COLD_FRAME_ON_LOOP
    return moved


def with_shares(layout: Layout, shares: Mapping[str, float]) -> Layout:
    """The same places with other shares, for trials of how far the plan depends on them.

    Parameters
    ----------
    layout : Layout
        Places.
    shares : mapping of str to float
        Relative weights by place. [-]

    Returns
    -------
    Layout
        A new layout; shares [-].
    """
    total = sum(shares[p.identifier] for p in layout.places)
    moved = tuple(replace(p, share=shares[p.identifier] / total) for p in layout.places)
    return replace(layout, places=moved)
