"""Joints that stand at a place, with the metals and sizes seen there or the usual ones."""

from __future__ import annotations

from collections.abc import Iterable

from coldwright.readings.mending import JointSeen
from coldwright.repair.joint_records import USUAL_WALL_M, Joint
from coldwright.repair.metals import metal_named
from coldwright.repair.situation import USUAL, Situation

# What stands on the far side of a segment's joint: its neighbour in the order of flow.
NEIGHBOUR = {
    "compressor": "discharge_line",
    "discharge_line": "condenser",
    "oil_cooler": "condenser",
    "drain_pan_loop": "condenser",
    "condenser": "drier",
    "frame_loop": "drier",
    "drier": "capillary",
    "capillary": "evaporator",
    "suction_exchanger": "suction_line",
    "evaporator": "suction_line",
    "accumulator": "suction_line",
    "suction_line": "compressor",
    "process_tube": "compressor",
}


def joint_between(situation: Situation, first: str, second: str, place: str) -> Joint:
    """The joint of two segments.

    Parameters
    ----------
    situation : Situation
        Metals seen.
    first, second : str
        Segments; a bridge of new copper tube is named "bridge".
    place : str
        Its place, for the sheet.

    Returns
    -------
    Joint
        Metals, diameters and walls [m]; what is assumed is marked.
    """
    ends = [_end(situation, segment) for segment in (first, second)]
    # These ends come out in the machine compartment whatever the rest of the tube does.
    outside = place in ("frame_loop_joint", "condenser_joint", "suction_line_joint")
    outside = outside or place.startswith(("drier", "process_tube", "compressor", "discharge"))
    return Joint(
        place=place,
        metals=(metal_named(ends[0][0]), metal_named(ends[1][0])),
        outside_m=(ends[0][1], ends[1][1]),
        wall_m=(USUAL_WALL_M, USUAL_WALL_M),
        buried=not outside and any(situation.buried(s) for s in (first, second) if s in USUAL),
        assumed=any(assumed for *_, assumed in ends),
    )


def joint_at(situation: Situation, place: str) -> Joint:
    """The joint at a place: of the segment with its neighbour, or across a cut of the segment.

    Parameters
    ----------
    situation : Situation
        Metals seen.
    place : str
        A place of the glossary.

    Returns
    -------
    Joint
        Metals, diameters and walls. [m]
    """
    segment = place.removesuffix("_joint")
    other = NEIGHBOUR[segment] if place.endswith("_joint") else segment
    return joint_between(situation, segment, other, place)


def joint_seen(situation: Situation, seen: JointSeen) -> Joint:
    """A joint as the job file gives it; what it does not give is the usual.

    Parameters
    ----------
    situation : Situation
        For the usual metals.
    seen : JointSeen
        From the table [repair].

    Returns
    -------
    Joint
        Metals, diameters and walls. [m]
    """
    usual = joint_at(situation, seen.place)
    names = seen.metals or (usual.metals[0].identifier, usual.metals[1].identifier)
    return Joint(
        place=seen.place,
        metals=(metal_named(names[0]), metal_named(names[1])),
        outside_m=seen.outside_m or usual.outside_m,
        wall_m=seen.wall_m or usual.wall_m,
        buried=usual.buried,
        assumed=seen.metals is None or seen.outside_m is None,
    )


def with_seen(
    situation: Situation, joints: Iterable[Joint], seen: Iterable[JointSeen]
) -> tuple[Joint, ...]:
    """The joints of a repair, those that were measured put in the place of the usual ones.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.
    joints : iterable of Joint
        Those of the repair.
    seen : iterable of JointSeen
        Those measured.

    Returns
    -------
    tuple of Joint
        In the order of `joints`.
    """
    by_place = {s.place: joint_seen(situation, s) for s in seen}
    return tuple(by_place.get(joint.place, joint) for joint in joints)


def _end(situation: Situation, segment: str) -> tuple[str, float, bool]:
    if segment == "bridge":
        return "copper", USUAL["drier"].outside_m, False
    metal, assumed = situation.metal_of(segment)
    return metal, USUAL[segment].outside_m, assumed
