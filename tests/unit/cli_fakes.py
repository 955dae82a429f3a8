"""Stand-ins for the use cases behind the command line: no physics, every field filled."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

from coldwright.circuit.records import Circuit
from coldwright.cycle.high_side.door_frame import DoorFrame
from coldwright.cycle.state import RunningState
from coldwright.diagnosis.result import (
    Argument,
    CheckValue,
    Decision,
    Diagnosis,
    Expectation,
    FaultOdds,
    Fit,
    LookFirst,
    MindChange,
    NextCheck,
    PlannedCheck,
    Reason,
    SeverityInterval,
    Speaks,
    WhichOdds,
)
from coldwright.errors import NotSolved

JOB = """
title = "Hall refrigerator of an invented owner with a long name"
[plate]
kind = "top_mount"
refrigerant = "{refrigerant}"
charge = "140 g"
[room]
temperature = "24 °C"
[readings]
appliance_power = "96 W"
discharge_line_temperature = "54 °C"
"""

DIAGNOSIS = Diagnosis(
    job="job.toml",
    title="Hall refrigerator",
    faults=(
        FaultOdds(("undercharge",), 0.52, SeverityInterval(0.3, 0.45, 0.6, "fraction"), ()),
        FaultOdds(("capillary_restricted",), 0.2, SeverityInterval(0.2, 0.35, 0.5, "fraction"), ()),
        FaultOdds(("drier_restricted",), 0.1, SeverityInterval(0.2, 0.35, 0.5, "fraction"), ()),
        FaultOdds(("undercharge", "non_condensables"), 0.07, None, ()),
        FaultOdds(("heat_load",), 0.06, SeverityInterval(15.0, 30.0, 60.0, "W"), ()),
        FaultOdds(
            ("compressor_not_running",),
            0.04,
            None,
            (WhichOdds("relay", 0.6), WhichOdds("winding", 0.4)),
        ),
        FaultOdds(("condenser_air",), 0.007, SeverityInterval(0.5, 0.5, 0.5, "fraction"), ()),
        FaultOdds(("nothing_wrong",), 0.003, None, ()),
    ),
    restriction_probability=0.3,
    sealed_circuit_probability=0.89,
    open_circuit_advised=False,
    reasons=tuple(
        Reason(
            reading="discharge_line_temperature",
            value=327.15,
            entered="54 °C",
            expectations=(
                Expectation(("undercharge",), 320.15, 326.15, 331.15),
                Expectation(("nothing_wrong",), 335.15, 340.15, 346.15),
            ),
            favours=("undercharge",),
            weight_bits=1.4,
            sentence=f"Reason {number}: the discharge line is cooler than a sound one would be.",
        )
        for number in range(1, 6)
    ),
    next_checks=(
        NextCheck(
            "condenser_outlet_temperature",
            0.41,
            4.0,
            False,
            "Clamp the last pass before the drier, under a strip of foam.",
            (),
            CheckValue(32.0, 3.0, 0.0, 29.0, 0.38, "Clean the condenser"),
        ),
        NextCheck("frost_only_at_inlet", 0.3, 5.0, False, "Look at the evaporator.", ()),
        NextCheck(
            "suction_pressure",
            0.6,
            25.0,
            True,
            "Connect stopped, hoses purged.",
            ("opens_circuit",),
        ),
        NextCheck("oil_trace", 0.1, 8.0, False, "Wipe joints with white paper.", ()),
    ),
    plan=(
        PlannedCheck("condenser_outlet_temperature", 0.41, 4.0),
        PlannedCheck("frost_only_at_inlet", 0.2, 5.0),
    ),
    look_first=(
        LookFirst(
            "condenser_dusty",
            "condenser dusty or covered",
            2.0,
            "Look behind and below.",
            "for poor air over the condenser (5 % to 20 %)",
            "against poor air over the condenser (5 % to 2 %)",
            0.12,
            True,
            ("A fan may start at any time.",),
        ),
        LookFirst(
            "setting", "setting", 1.0, "Read it.", "It was the setting.", "", 0.01, False, ()
        ),
    ),
    cautions=("This refrigerant burns.", "No flame, spark, switch or brush motor near it."),
    notes=("suction_pressure: taken as gauge.",),
    fit=Fit(0.4, True, None, ""),
    refused=None,
    members=4000,
    effective_members=731.4,
    unsolved=2,
    seed=20,
    model="stand-in 1",
    parameter_set="made up for tests",
    arguments=(
        Argument(
            ("undercharge",),
            0.52,
            (
                Speaks(
                    "discharge_line_temperature", 327.15, "54 °C", 1.4,
                    Expectation(("undercharge",), 320.15, 326.15, 331.15),
                    Expectation(("nothing_wrong",), 335.15, 340.15, 346.15),
                    "Discharge line read 54 °C: this fault would show 47 to 58 °C; nothing wrong"
                    " 62 to 73 °C.",
                ),
            ),
            (
                Speaks(
                    "frost_only_at_inlet", 0.0, "no", -0.6, None, None,
                    "Frost only at the inlet: no; this fault shows it in 80 of 100.",
                ),
            ),
        ),
        Argument(("undercharge", "non_condensables"), 0.07, (), ()),
    ),
    decision=Decision("replace", "Replace the appliance", 1787.0, "Do nothing", 1822.0, "crowns",
                      60.0, 0.11, True),
    mind_changes=(
        MindChange(
            ("undercharge",), "condenser_outlet_temperature", 4.0, None, 298.95, None, 0.17, 0.52,
            0.4, 0.2, ("restriction",),
            "If condenser outlet were below 25.8 °C, too little refrigerant would fall from 52 %"
            " to 40 % or less.",
        ),
    ),
)  # fmt: skip
REFUSED = replace(
    DIAGNOSIS,
    faults=(),
    refused="A variable-speed drive is not modelled yet, so there are no odds.",
    fit=None,
    reasons=(),
    look_first=(),
    arguments=(),
    mind_changes=(),
    decision=None,
)
MISFIT = replace(
    DIAGNOSIS,
    fit=Fit(0.0004, False, "freezer_temperature", "No fault here explains these readings well."),
)


class FakeDiagnose:
    """Returns `result` under the job's name; remembers what it was asked."""

    def __init__(self, result: Diagnosis = DIAGNOSIS) -> None:
        self.result, self.asked = result, []
        self.trouble: BaseException | None = None

    def __call__(self, job, *, progress, system, deadline_s=None, seed=20, members=4000):
        self.asked.append((job, seed, members))
        self.deadline_s = deadline_s
        self.system = system
        progress("drawing members")
        if self.trouble is not None:
            raise self.trouble
        return replace(self.result, job=job.source, title=job.title, seed=seed, members=members)


@dataclass(frozen=True, slots=True)
class FakeStanding:
    """A standing state; the real one may have more fields."""

    pressure_pa: float
    evaporator_k: float
    liquid_kg: float
    pressure_tells_mass: bool


@dataclass(frozen=True, slots=True)
class FakeSimulation:
    """Running and standing state with the names of the closures."""

    running: RunningState
    standing: FakeStanding
    models: tuple[str, ...]
    charge_kg: float = 0.12
    layout: str = "frame_loop"
    high_side: tuple[str, ...] = ("condenser", "frame_loop")
    door_frame: DoorFrame | None = None
    thawed: RunningState | None = None
    before: FakeSimulation | None = None
    outside: tuple[object, ...] = ()
    fit: object | None = None


class FakeSimulate:
    """A state whose evaporating temperature follows the capillary's bore and the charge."""

    def __init__(self, unsolved_above: float = 1.0) -> None:
        self.unsolved_above, self.asked, self.choices = unsolved_above, [], []

    def __call__(self, job, *, faults, charge_kg, without, choice):
        self.choices.append(choice)
        bore = dict(job.circuit.geometry).get("capillary.bore", 0.66e-3)
        charge = job.plate.charge_kg if charge_kg is None else charge_kg
        self.asked.append((job, faults, charge_kg))
        if bore > self.unsolved_above:
            raise NotSolved("running state", (11.5, 13.8), 0.2)
        values = {f.name: _made_up(f.name) for f in fields(RunningState)}
        values |= {"evaporating_k": 200.0 + 1e5 * bore - 10 * charge, "status_code": 0.0}
        values |= {"outside_range_code": 0.0, "capillary_exit_pa": float("nan")}
        standing = FakeStanding(4e5, 297.15, 0.05, True)
        found = FakeSimulation(RunningState(**values), standing, ("void fraction of a book",))
        if without is None:
            return found
        warm = DoorFrame(305.0, 294.0, 298.0, 290.0, 15.0, 8.0, 1.0)
        cold = DoorFrame(288.0, 288.0, 288.0, 290.0, -2.0, -2.0, 0.6)
        return replace(
            found, charge_kg=0.1, door_frame=cold, before=replace(found, door_frame=warm)
        )


def _made_up(name: str) -> float:
    if name.endswith("_pa"):
        return 1.2e5
    if name in ("superheat_k", "subcooling_k"):
        return 4.5
    if name.endswith("_k"):
        return 290.0
    if name.endswith("_kg"):
        return 0.02
    if name.endswith("_kg_s"):
        return 1e-3
    return 0.5 if name.endswith("fraction") else 60.0


def circuit_toml() -> str:
    """A job file that gives every key of a circuit by its documented example."""
    from pathlib import Path

    from coldwright.circuit.files import geometry_keys

    page = (Path(__file__).parents[2] / "docs" / "circuit-file.md").read_text(encoding="utf-8")
    lines, segment = [], ""
    for line in page.splitlines():
        if line.startswith("## `[circuit."):
            segment = line.strip("# `[]").removeprefix("circuit.")
            lines.append(f"[circuit.{segment}]")
        elif line.startswith("| `"):
            key, example = (cell.strip() for cell in line.strip("|").split("|")[:2])
            lines.append(f"{key.strip('`')} = {example.split(' or ')[0]}")
    given = sum("=" in line for line in lines)
    assert given == len(geometry_keys()), "the page of the circuit file lost a key"
    assert len(fields(Circuit)) - 3 == sum(line.startswith("[") for line in lines)
    head = '[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\ncharge = "120 g"\n'
    return head + '[room]\ntemperature = "25 °C"\n' + "\n".join(lines) + "\n"
