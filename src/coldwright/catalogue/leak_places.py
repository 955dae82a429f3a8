"""Where household circuits leak, before anything is looked at.

No study with numeric shares was found, so every weight is a judgement of ours from what
trade texts say in words; a shop's own finds move them (`leak.places`). Weights are relative.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class PlaceWeight:
    """One place: its weight at ten years, how it grows with age, and what earlier work does."""

    identifier: str
    weight: float
    age_exponent: float  # weight ~ (age / 10 years) ** exponent
    after_repair: float  # factor where the circuit was opened before
    why: str


_ROWS = (
    ("process_tube", 7.0, 0.0, 3.5, "pinched and brazed stub; a left-on tap is likelier still"),
    ("compressor", 0.4, 0.5, 1.0, "welded shell and its glass-sealed pins"),
    ("compressor_joint", 4.0, 0.3, 2.5, "brazed stubs that shake with the pump"),
    ("discharge_line", 3.0, 0.5, 1.2, "shakes; rubs on its neighbours"),
    ("discharge_line_joint", 3.0, 0.3, 2.0, "brazed, hot and shaken"),
    ("oil_cooler", 1.0, 0.5, 1.0, "tube and its brazed ends at the shell"),
    ("drain_pan_loop", 4.0, 1.2, 1.0, "steel over water: rust"),
    ("condenser_static", 3.0, 0.8, 1.0, "steel wire-and-tube: rust, knocks"),
    ("condenser_skin", 7.0, 1.0, 1.0, "steel in foam: rust unseen"),
    ("condenser_fan", 2.5, 0.6, 1.0, "tube and fins, shaken"),
    ("condenser_joint", 3.5, 0.3, 1.5, "brazed, often copper to steel"),
    ("frame_loop_steel", 9.0, 1.0, 1.0, "steel in foam behind a wet frame: rust"),
    ("frame_loop_copper", 1.0, 0.5, 1.0, "one piece of copper: rare by one maker's text"),
    ("drier", 0.6, 0.3, 1.0, "spun copper body"),
    ("drier_joint", 7.0, 0.2, 2.5, "two brazed ends, three materials, renewed at every repair"),
    ("capillary", 1.5, 0.3, 1.5, "thin tube that rubs where it is bundled"),
    ("capillary_joint", 5.0, 0.4, 1.5, "thin tube brazed or glued into the evaporator"),
    ("evaporator_plate", 16.0, 1.0, 1.0, "thin aluminium in reach of ice picks, acid food, salt"),
    ("evaporator_cold_wall", 9.0, 1.0, 1.0, "tube in foam, wet at every door opening"),
    ("evaporator_fan", 7.0, 0.9, 1.0, "aluminium tube and fins under condensate: pitting"),
    ("evaporator_joint", 9.0, 0.7, 1.3, "copper to aluminium: corrosion where water stands"),
    ("suction_exchanger", 3.0, 0.6, 1.0, "in foam for most of its length"),
    ("suction_line", 2.5, 0.7, 1.2, "sweats under its lagging"),
    ("suction_line_joint", 3.0, 0.4, 1.5, "brazed, sometimes copper to aluminium"),
)
PLACE_WEIGHTS: Mapping[str, PlaceWeight] = MappingProxyType(
    {row[0]: PlaceWeight(*row) for row in _ROWS}
)
UNKNOWN_LOOP_STEEL = 0.6  # share of steel where the loop's material is not known, ours
LEFT_ON_TAP = 6.0  # factor on the process tube, ours: "never left on" in trade texts
# What a sign at a place says against none there; ours.
SIGN_FACTORS: Mapping[str, float] = MappingProxyType({"oil_trace": 15.0, "rust": 5.0, "dent": 4.0})
NEIGHBOUR_FACTOR = 3.0  # the same segment's joint, and the other way round
SIGN_UNPLACED_IN_REACH = 2.0  # an oil trace seen, its place not written down
COLD_FRAME_ON_LOOP = 1.3  # a cold frame, on the frame loop
ALUMINIUM_EVAPORATOR, OTHER_EVAPORATOR = 1.2, 0.5
SHOP_WEIGHT = 30.0  # finds of its own from which a shop's shares count as much as these
NOTHING_THERE, NOTHING_AFTER_REPAIR = 0.04, 0.12  # short of charge without a leak
# Minutes to get at a place, once; ours.
ACCESS_MINUTES: Mapping[str, float] = MappingProxyType(
    {"pulled_out": 3.0, "rear_cover": 5.0, "evaporator_cover": 10.0, "lagging": 4.0}
)
