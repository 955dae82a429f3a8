"""The work peculiar to each repair, as steps, and the joints it makes."""

from __future__ import annotations

from coldwright.repair.joint_records import Joint
from coldwright.repair.places import joint_between
from coldwright.repair.situation import Situation
from coldwright.repair.step_records import Step
from coldwright.repair.steps_safe import MAINS


def drier_joints(s: Situation, before: str = "condenser") -> tuple[Joint, ...]:
    """Tube to drier, drier to capillary, process tube.

    Parameters
    ----------
    s : Situation
        The situation the job describes.
    before : str
        Segment that ends at the drier.

    Returns
    -------
    tuple of Joint
        Three joints.
    """
    return (
        joint_between(s, before, "drier", "drier_joint"),
        joint_between(s, "drier", "capillary", "capillary_joint"),
        joint_between(s, "process_tube", "process_tube", "process_tube"),
    )


def find_leak(s: Situation) -> Step:
    """Before anything is cut.

    Parameters
    ----------
    s : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    burns = "never with air: nitrogen with a trace of helium, or 5 % hydrogen" if s.flammable else (
        "nitrogen with a trace, or bubbles")  # fmt: skip
    return Step(
        "find_leak", "Find the leak for certain",
        ("signs first: oil, rust, rubbing", f"then pressure and detector, {burns}",
         "each place searched in vain is noted in this job"),
        ("bubble liquid", "detector", "mirror, lamp"), 25.0, 0.0,
        hold="record: place and method; none found: do not go on to joints",
    )  # fmt: skip


BYPASS = Step(
    "bypass", "By-pass the door-frame loop",
    ("both loop ends cut where they come out in the machine compartment, the loop blown empty "
     "with nitrogen",
     "a bridge of new copper tube from condenser to drier, no kink, clear of vibration",
     "the loop stays in the foam: one end capped against dirt, the other left open; never both "
     "shut with refrigerant or oil inside",
     "owner told: the frame may sweat in damp weather"),
    ("copper tube", "tube bender"), 25.0,
    hold="record: loop ends closed, length of the bridge",
)  # fmt: skip
EVAPORATOR = Step(
    "evaporator", "Change the evaporator",
    ("liner parts off, sensors and heater unplugged and photographed",
     "capillary and suction line cut near the old coil; new coil of the same surface and volume",
     "air path and drain as before"),
    ("evaporator", "hand tools"), 60.0,
    hold="record: volume and surface of the new coil against the old; a different volume changes "
         "the mass to be charged",
)  # fmt: skip
ALUMINIUM_PATCH = Step(
    "aluminium", "Mend the aluminium evaporator",
    ("the pierced tube cut out and bridged with crimped rings where two straight ends can be had; "
     "else the epoxy kit",
     "corrosion elsewhere on the coil: do not mend, change it"),
    ("rings and tool, or epoxy kit", "abrasive web", "lamp"), 35.0, 45.0,
    hold="record: way taken, cure time",
)  # fmt: skip
CAPILLARY = Step(
    "capillary", "Clear or renew the capillary",
    ("cut 3 cm off at the drier end and pass nitrogen: flow as on this sheet means clear",
     "renew rather than push: a cleared wax plug comes back",
     "new tube of the bore and length of this sheet, bonded to the suction line over the same "
     "length"),
    ("capillary shears", "nitrogen with flow meter", "bore gauge"), 45.0,
    hold="record: nitrogen flow of old and new at equal pressure [l/min]",
)  # fmt: skip
COMPRESSOR = Step(
    "compressor", "Change the compressor",
    ("new one plugged until joined; start device and overload of the new one",
     "burnt oil is acid: wash the circuit or do not mend; gloves",
     "grommets and earth as before"),
    ("compressor with its start device", "spanners"), 40.0, 0.0, (MAINS,),
    hold="record: label of old and new; winding and earth readings",
)  # fmt: skip
START_DEVICE = Step(
    "start_device", "Supply, starting device, overload",
    ("supply at the compressor's plug under load within 10 % of the plate",
     "resistances of the windings and to earth with everything pulled off",
     "starting device and overload renewed as a pair, of the kind made for this compressor"),
    ("multimeter", "insulation tester, 500 V"), 30.0, 0.0, (MAINS,),
    hold="record: three resistances, earth",
)  # fmt: skip
CLEAN_CONDENSER = Step(
    "clean_condenser", "Clean the condenser",
    ("brush and suck, along the wires or fins; fan turns free and pulls the right way",
     "5 cm of air behind and above, or what its instructions ask"),
    ("brush", "vacuum cleaner"), 25.0, 0.0, (MAINS,),
)  # fmt: skip
DEFROST = Step(
    "defrost", "De-ice; mend defrost and fan",
    ("warm air or warm water, never a blade: chipping pierces evaporators",
     "heater, sensor, timer or board, drain, fan each proved"),
    ("warm air", "multimeter", "fan or heater"), 40.0, 60.0, (MAINS,),
    hold="record: which part it was",
)  # fmt: skip
SEAL = Step(
    "seal", "Door, seal, stuck heater",
    ("a strip of paper held all round; hinge and level", "seal warmed into shape or renewed",
     "heater that is on when it should not be: control proved"),
    ("paper strip", "multimeter"), 30.0, 0.0, (MAINS,),
)  # fmt: skip
CONTROL = Step(
    "control", "Thermostat, sensor, timer, damper, board",
    ("does it call for cold: switch or relay bridged as its diagram shows, never by guess",
     "sensor's ohms in ice water and in the room against its table; damper moves; timer advances",
     "the part at fault renewed, settings as before"),
    ("multimeter", "ice water", "thermometer"), 35.0, 0.0, (MAINS,),
    hold="record: which part, its readings before and after",
)  # fmt: skip
EXPLAIN = Step(
    "explain", "Nothing mended: setting, room, use",
    ("thermostat, room temperature, loading, doors explained", "thermometer left in a glass"),
    ("thermometer",), 15.0,
)  # fmt: skip
