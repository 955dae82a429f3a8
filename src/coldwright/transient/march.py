"""The march through time: phases, events, bookkeeping.

A step's heats are those at its begin; the network moves implicitly. After an event steps are
short and grow. A thermostat or a defrost that would switch within a step ends it there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, isfinite, nan

import numpy as np

from coldwright.circuit.records import Circuit, EvaporatorKind, Surroundings
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.medium import Medium
from coldwright.cycle.running import Running
from coldwright.errors import NotSolved
from coldwright.refrigerant.saturation import saturation_temperature
from coldwright.transient.masses import Masses
from coldwright.transient.moist import FREEZES, FREEZING, opening
from coldwright.transient.network import (
    EVAPORATOR,
    FREEZER,
    FRESH_FOOD,
    Moved,
    Network,
    Push,
    split,
)
from coldwright.transient.pump import Around, Pump, Pumped
from coldwright.transient.records import (
    Balance,
    Compartment,
    Cycle,
    Defrost,
    DefrostReport,
    Phase,
    Plan,
    Sample,
)
from coldwright.transient.rest import Stop, gone, pressures, stop

FIRST_STEP_S, GROWTH = 5.0, 1.3  # after an event; ours
LONGEST_OFF_STEP_S = 60.0
LONGEST_DEFROST_STEP_S = 15.0
FAN_STOPPED = 0.05  # of the running conductance passes between a finned coil and its air (ours)
FAN_STOPPED_HOT = 0.15  # while the heater makes the air rise (ours)
DAMPER_BAND, DAMPER_LEAK = 2.0, 0.1  # [K] from shut to open, share that passes when shut (ours)
DAMPER_LAG = 300.0  # of its bellows or motor [s] (ours)
MOISTURE_SHARE = 0.2  # of the averaged opening power, freezes on the evaporator (ours)
ICE = 334e3  # melting heat [J/kg]
OVERLOAD_S = 300.0  # an overload stays open about so long (common practice, no published source)
FREEZER_DOOR = 5  # of so many openings one is the freezer's, where there are two doors (ours)
MOST_UNSOLVED_S = 1200.0  # bridged in one piece, then given up (ours)
REPORT_EVERY_S = 3600.0


@dataclass(slots=True)
class _Open:
    """The cycle under way."""

    start_s: float = 0.0
    run_s: float = 0.0
    energy_j: float = 0.0
    cooling_j: float = 0.0
    compressor_j: float = 0.0
    migration_j: float = 0.0
    displaced_kg: float = 0.0
    equalised: float = 1.0
    defrosted: bool = False


@dataclass(frozen=True, slots=True)
class Marched:
    """All that the march has kept."""

    samples: tuple[Sample, ...]
    cycles: tuple[Cycle, ...]
    first_stop_s: float
    energy_j: float
    run_s: float
    defrosts: DefrostReport
    balance: Balance
    trips: int
    early_restarts: int
    unsolved_s: float
    solves: int
    fallbacks: int  # of them, not by the direct way


class March:
    """State of the appliance and what it has moved so far."""

    def __init__(
        self,
        circuit: Circuit,
        surroundings: Surroundings,
        med: Medium,
        masses: Masses,
        plan: Plan,
        known: Running | None,
    ) -> None:
        self.circuit, self.around, self.med, self.plan = circuit, surroundings, med, plan
        self.masses = masses
        self.packed = pack_circuit(circuit)
        self.pump = Pump(circuit, surroundings, med)
        if known is not None:
            self.pump.begin(known)
        self.network = Network(masses)
        self.now = 0.0
        self.phase, self.phase_since = Phase.OFF, 0.0
        self.room = surroundings.room_k
        self.shell = self.condenser = self.room
        self.frost_kg = 0.0
        self.damper = 1.0
        self.run_since_defrost = 0.0
        self.displaced, self.displaced_start = 0.0, 0.0
        self.after: Stop | None = None
        self.door_debt = 0.0
        self.openings = 0
        self.samples: list[Sample] = []
        self.cycles: list[Cycle] = []
        self.open = _Open()
        self.first_stop = nan
        self.energy = self.run_total = self.unsolved = self.unsolved_piece = 0.0
        self.trips = self.early = 0
        self.defrost_count = 0
        self.defrost_energy = self.defrost_s = self.melted_kg = 0.0
        self.walls = self.inside = self.migration = self.cooling = self.stored = self.put_in = 0.0
        self.sensor = 0.0
        self.waiting = sorted((g for g in plan.goods if g.at_s > 0.0), key=lambda g: g.at_s)

    def run(self, progress: Callable[[str], None] | None = None) -> Marched:
        """March to the end.

        Parameters
        ----------
        progress : callable, optional
            Is told the hour reached.

        Raises
        ------
        NotSolved
            If no running state was found for too long.
        """
        self._begin()
        end = 3600.0 * self.plan.hours
        step, told = FIRST_STEP_S, 0.0
        while self.now < end - 1e-6:
            if progress is not None and self.now - told >= REPORT_EVERY_S:
                told = self.now
                progress(f"hour {self.now / 3600.0:.0f} of {self.plan.hours:g}")
            self._put_in_what_is_due()
            step = min(step, end - self.now, self._until_goods())
            taken, switched = self._step(step)
            step = FIRST_STEP_S if switched else min(GROWTH * taken, self._longest())
        self._sample(self._pumped if self.phase is Phase.RUNNING else None, self._pressures())
        return self._marched()

    # -- begin ------------------------------------------------------------------------------
    def _begin(self) -> None:
        k, plan, room = self.circuit.cabinet, self.plan, self.room
        if plan.warm_start:
            self.network.begin(room, room, room, room)
        else:
            ff, fz = k.fresh_food_set_k, k.freezer_set_k
            share = k.air_share_fraction
            self.network.begin(ff, fz, share * ff + (1.0 - share) * fz, room)
        for goods in plan.goods:
            if goods.at_s <= 0.0:
                self.network.put_in(goods)
        self.sensor = self._sensed_air()
        self._pumped: Pumped | None = None
        # At rest for long: all that can move has moved
        known = self.pump.out
        if plan.runs and not plan.blocked:
            self.after = stop(
                self.med, self.packed, known, evaporator_k=self._t(EVAPORATOR), room_k=room,
                shell_k=room, displaced_kg=0.0,
            )  # fmt: skip
            self.after_since = (
                -8.0 * self.after.equalising_s if isfinite(self.after.equalising_s) else 0.0
            )
        else:
            self.after, self.after_since = None, 0.0
        middle = 0.5 * (plan.thermostat.cut_in_k + plan.thermostat.cut_out_k)
        if plan.runs and (plan.warm_start or self.sensor > middle - 1e-9):
            self._start()

    def _t(self, node: int) -> float:
        return float(self.network.temperatures[node])

    def _sensed_air(self) -> float:
        fresh = self.plan.thermostat.compartment is Compartment.FRESH_FOOD
        return self._t(FRESH_FOOD if fresh else FREEZER)

    def _put_in_what_is_due(self) -> None:
        while self.waiting and self.waiting[0].at_s <= self.now + 1e-6:
            self.put_in += self.network.put_in(self.waiting.pop(0))

    def _until_goods(self) -> float:
        return self.waiting[0].at_s - self.now if self.waiting else float("inf")

    def _longest(self) -> float:
        if self.phase is Phase.RUNNING:
            return self.plan.longest_step_s
        if self.phase is Phase.DEFROST:
            return min(LONGEST_DEFROST_STEP_S, self.plan.longest_step_s)
        return min(LONGEST_OFF_STEP_S, 2.0 * self.plan.longest_step_s)

    # -- one step ---------------------------------------------------------------------------
    def _step(self, seconds: float) -> tuple[float, bool]:
        """Move on by at most so long; what was taken, and whether something switched."""
        pumped = self._run_pump(seconds) if self.phase is Phase.RUNNING else None
        self._pumped = pumped
        levels = self._pressures()
        self._sample(pumped, levels)
        push, inside = self._push(pumped, seconds)
        trial = self.network.copy()
        moved = trial.step(push, seconds)
        share = self._share_until_switch(trial, seconds)
        if share < 1.0:
            seconds = max(share * seconds, 0.05)
            push, inside = self._push(pumped, seconds)
            trial = self.network.copy()
            moved = trial.step(push, seconds)
        self._doors_done(seconds)
        self.network = trial
        self._book(inside, moved, pumped, seconds)
        self._metal(pumped, seconds)
        self._melt()
        self._move_damper(seconds)
        self.sensor = self._sensor_after(self.network, seconds)
        self.now += seconds
        return seconds, self._switch(pumped)

    def _run_pump(self, seconds: float) -> Pumped:
        pumped = self.pump.at(self._felt())
        if pumped.solved:
            self.unsolved_piece = 0.0
        else:
            self.unsolved += seconds
            self.unsolved_piece += seconds
            if self.unsolved_piece > MOST_UNSOLVED_S:
                u = tuple(float(x) for x in self.pump.u)
                raise NotSolved(f"running state {self.now / 60.0:.0f} min after the begin", u, nan)
        return pumped

    def _felt(self) -> Around:
        air = self.network.mixed_k(self._share())
        wall = self._t(EVAPORATOR)
        return Around(
            air, self._t(FREEZER), wall, self.condenser, self.shell, self.room, self.displaced,
            self.displaced_start, self.pump.coil_conductance(wall, air),
            self.pump.condenser_conductance(self.condenser, self.room),
        )  # fmt: skip

    def _share(self) -> float:
        """Of the coil's air, from the fresh-food side behind its damper."""
        share = self.circuit.cabinet.air_share_fraction
        return share * self.damper if self.plan.damper else share

    def _move_damper(self, seconds: float) -> None:
        above = (self._t(FRESH_FOOD) - self.circuit.cabinet.fresh_food_set_k) / DAMPER_BAND
        wanted = min(max(1.0 + above, DAMPER_LEAK), 1.0)
        self.damper = _toward(self.damper, wanted, DAMPER_LAG, seconds)

    def _coil(self) -> tuple[float, float]:
        """Conductance of coil to air, and mixing by way of it, in this phase."""
        wall, air = self._t(EVAPORATOR), self.network.mixed_k(self._share())
        g = self.pump.coil_conductance(wall, air)
        if self.phase is Phase.RUNNING:
            factor = self.circuit.evaporator.air_factor_fraction
            return g, max(self.circuit.cabinet.air_capacity_w_k * factor, g)
        if EvaporatorKind(int(self.circuit.evaporator.kind_code)) is EvaporatorKind.FAN:
            g *= FAN_STOPPED_HOT if self.phase is Phase.DEFROST else FAN_STOPPED
        return g, g

    def _push(self, pumped: Pumped | None, seconds: float) -> tuple[Push, float]:
        """Heats of the step, and those inside the cabinet but for the evaporator's wall."""
        k = self.circuit.cabinet
        heat = k.heater_power_w + self.around.heat_load_w
        if self.plan.doors is None:
            heat += k.opening_power_w
        if pumped is not None:
            heat += k.evaporator_fan_power_w
        inward = self.circuit.condenser.inward_conductance_w_k
        if inward > 0.0:
            heat += inward * (self.condenser - self._t(FREEZER))
        ff, fz = split(self.masses, heat)
        door_ff, door_fz = self._door_heat(seconds)
        at_coil = 0.0
        if pumped is not None:
            at_coil = -pumped.cooling_w
        elif self.phase is Phase.DEFROST and self.plan.defrost is not None:
            at_coil = self.plan.defrost.heater_w
        at_coil += self._migration(seconds) / seconds
        g, mixing = self._coil()
        share = self._share()
        push = Push(ff + door_ff, fz + door_fz, at_coil, g, mixing, self.room, share)
        return push, heat + door_ff + door_fz

    def _migration(self, seconds: float) -> float:
        """Heat that refrigerant brings into the resting evaporator in this step. [J]"""
        if self.after is None or self.phase is Phase.RUNNING:
            return 0.0
        before = gone(self.after, self.now - self.after_since)
        then = gone(self.after, self.now + seconds - self.after_since)
        return self.after.heat_j * (then - before)

    # -- doors ------------------------------------------------------------------------------
    def _door_heat(self, seconds: float) -> tuple[float, float]:
        doors = self.plan.doors
        if doors is None:
            return 0.0, 0.0
        count = int(self.door_debt + doors.per_hour * seconds / 3600.0)
        ff = fz = 0.0
        for i in range(count):
            node, space = self._door(self.openings + i)
            found = opening(space, self._t(node), self.room, doors.humidity_fraction)
            if node == FRESH_FOOD:
                ff += found.heat_j / seconds
            else:
                fz += found.heat_j / seconds
        return ff, fz

    def _door(self, number: int) -> tuple[int, float]:
        both = self.masses.fresh_food.volume_m3 > 0.0
        if both and (number + 1) % FREEZER_DOOR:
            return FRESH_FOOD, self.masses.fresh_food.volume_m3
        return FREEZER, self.masses.freezer.volume_m3

    def _doors_done(self, seconds: float) -> None:
        doors = self.plan.doors
        if doors is None:
            self.frost_kg += (
                MOISTURE_SHARE * self.circuit.cabinet.opening_power_w / FREEZES * seconds
            )
            return
        self.door_debt += doors.per_hour * seconds / 3600.0
        count = int(self.door_debt)
        self.door_debt -= count
        for _ in range(count):
            node, space = self._door(self.openings)
            water = opening(space, self._t(node), self.room, doors.humidity_fraction).water_kg
            self.frost_kg += water
            self.openings += 1

    # -- after a step -----------------------------------------------------------------------
    def _book(self, inside: float, moved: Moved, pumped: Pumped | None, seconds: float) -> None:
        self.walls += moved.walls_j
        self.stored += moved.stored_j
        migration = self._migration(seconds)
        self.migration += migration
        self.open.migration_j += migration
        self.inside += inside * seconds
        power = self._power(pumped)
        self.energy += power * seconds
        self.open.energy_j += power * seconds
        if pumped is not None:
            self.cooling += pumped.cooling_w * seconds
            self.open.cooling_j += pumped.cooling_w * seconds
            self.open.compressor_j += pumped.compressor_w * seconds
            self.open.run_s += seconds
            self.run_total += seconds
            self.run_since_defrost += seconds
        elif self.phase is Phase.DEFROST and self.plan.defrost is not None:
            heat = self.plan.defrost.heater_w * seconds
            self.inside += heat
            self.defrost_energy += heat
            self.defrost_s += seconds

    def _power(self, pumped: Pumped | None) -> float:
        """Of the whole appliance, electric heaters of the cabinet included. [W]"""
        k = self.circuit.cabinet
        power = k.controls_power_w + k.heater_power_w
        if pumped is not None:
            power += pumped.compressor_w + k.evaporator_fan_power_w + k.condenser_fan_power_w
        elif self.phase is Phase.DEFROST and self.plan.defrost is not None:
            power += self.plan.defrost.heater_w
        return power

    def _metal(self, pumped: Pumped | None, seconds: float) -> None:
        """Shell and condenser: exponentials toward where their heats would leave them."""
        ua = self.circuit.compressor.shell_conductance_w_k
        heat = 0.0 if pumped is None else pumped.shell_w
        self.shell = _toward(self.shell, self.room + heat / ua, self.masses.shell_j_k / ua, seconds)
        g = self.pump.condenser_conductance(self.condenser, self.room)
        inward = self.circuit.condenser.inward_conductance_w_k
        sink = (g * self.room + inward * self._t(FREEZER)) / (g + inward)
        heat = 0.0 if pumped is None else pumped.condenser_w
        tau = self.masses.condenser_j_k / (g + inward)
        self.condenser = _toward(self.condenser, sink + heat / (g + inward), tau, seconds)
        if pumped is not None and self.displaced > 0.0:
            # The pump brings back what the capillary does not yet pass
            rate = pumped.displaced_kg_s / self.displaced
            self.displaced *= exp(-rate * seconds)

    def _melt(self) -> None:
        wall = self._t(EVAPORATOR)
        if wall <= FREEZING or self.frost_kg <= 0.0:
            return
        c = self.masses.evaporator_j_k
        melted = min(c * (wall - FREEZING) / ICE, self.frost_kg)
        self.frost_kg -= melted
        self.melted_kg += melted
        self.network.temperatures[EVAPORATOR] = wall - melted * ICE / c
        self.stored -= melted * ICE

    def _sensor_after(self, network: Network, seconds: float) -> float:
        fresh = self.plan.thermostat.compartment is Compartment.FRESH_FOOD
        air = float(network.temperatures[FRESH_FOOD if fresh else FREEZER])
        return _toward(self.sensor, air, self.plan.thermostat.lag_s, seconds)

    # -- switching --------------------------------------------------------------------------
    def _share_until_switch(self, trial: Network, seconds: float) -> float:
        """Part of the step until something switches, by a straight line; 1 where nothing does."""
        plan, share = self.plan, 1.0
        then = self._sensor_after(trial, seconds)
        if self.phase is Phase.RUNNING and then < plan.thermostat.cut_out_k < self.sensor:
            share = (self.sensor - plan.thermostat.cut_out_k) / (self.sensor - then)
        elif (
            self.phase is Phase.OFF and plan.runs and self.sensor < plan.thermostat.cut_in_k < then
        ):
            share = (plan.thermostat.cut_in_k - self.sensor) / (then - self.sensor)
        elif self.phase is Phase.DEFROST and plan.defrost is not None and self.frost_kg <= 0.0:
            wall, after = self._t(EVAPORATOR), float(trial.temperatures[EVAPORATOR])
            if wall < plan.defrost.end_k < after:
                share = (plan.defrost.end_k - wall) / (after - wall)
        return share

    def _switch(self, pumped: Pumped | None) -> bool:
        plan, since = self.plan, self.now - self.phase_since
        slack = 1e-3
        if self.phase is Phase.RUNNING:
            if pumped is not None and pumped.tripped:
                self.trips += 1
                return self._stop(Phase.TRIPPED)
            if plan.defrost is not None and self.run_since_defrost >= plan.defrost.interval_s:
                self._stop(Phase.DEFROST)
                self.defrost_count += 1
                self.open.defrosted = True
                return True
            if self.sensor <= plan.thermostat.cut_out_k + slack:
                if self.first_stop != self.first_stop:
                    self.first_stop = self.now
                return self._stop(Phase.OFF)
            return False
        if self.phase is Phase.OFF:
            if plan.runs and self.sensor >= plan.thermostat.cut_in_k - slack:
                return self._start()
            return False
        if self.phase is Phase.DEFROST:
            return self._defrost_over(plan.defrost, since)
        waits = OVERLOAD_S if self.phase is Phase.TRIPPED else self._drip()
        if since < waits:
            return False
        if self.sensor > plan.thermostat.cut_out_k:
            return self._start()
        self.phase, self.phase_since = Phase.OFF, self.now
        return True

    def _drip(self) -> float:
        return 0.0 if self.plan.defrost is None else self.plan.defrost.drip_s

    def _defrost_over(self, defrost: Defrost | None, since: float) -> bool:
        if defrost is None:
            return False
        if self._t(EVAPORATOR) < defrost.end_k - 1e-2 and since < defrost.longest_s:
            return False
        self.run_since_defrost = 0.0
        self.phase, self.phase_since = Phase.DRIP, self.now
        return True

    def _stop(self, into: Phase) -> bool:
        self.phase, self.phase_since = into, self.now
        self.after = stop(
            self.med, self.packed, self.pump.out, evaporator_k=self._t(EVAPORATOR),
            room_k=self.room, shell_k=self.shell, displaced_kg=self.displaced,
        )  # fmt: skip
        self.after_since = self.now
        return True

    def _start(self) -> bool:
        plan = self.plan
        if self.open.run_s > 0.0 or self.cycles:
            self._close_cycle()
        self.open = _Open(start_s=self.now)
        if self.after is not None and not plan.blocked:
            seconds = self.now - self.after_since
            _, _, self.displaced = self._levels()
            self.open.equalised = gone(self.after, seconds)
            if seconds < self.after.equalising_s:
                self.early += 1
        self.displaced_start = self.displaced
        self.open.displaced_kg = self.displaced
        self.phase, self.phase_since = Phase.RUNNING, self.now
        self._pumped = self.pump.start(self._felt())
        return True

    def _close_cycle(self) -> None:
        o = self.open
        self.cycles.append(
            Cycle(
                o.start_s, o.run_s, self.now - o.start_s - o.run_s, o.energy_j, o.cooling_j,
                o.compressor_j, o.migration_j, o.displaced_kg, o.equalised, o.defrosted,
            )
        )  # fmt: skip

    # -- what is kept -----------------------------------------------------------------------
    def _levels(self) -> tuple[float, float, float]:
        assert self.after is not None
        return pressures(
            self.med, self.packed, self.after, seconds=self.now - self.after_since,
            evaporator_k=self._t(EVAPORATOR), room_k=self.room, shell_k=self.shell,
        )  # fmt: skip

    def _pressures(self) -> tuple[float, float]:
        if self.phase is Phase.RUNNING or self.after is None:
            return nan, nan
        low, high, _ = self._levels()
        return low, high

    def _sample(self, pumped: Pumped | None, levels: tuple[float, float]) -> None:
        low, high = levels
        evaporating = condensing = nan
        flow = cooling = 0.0
        if pumped is not None:
            low, high = pumped.suction_pressure_pa, pumped.discharge_pressure_pa
            evaporating, condensing = pumped.evaporating_k, pumped.condensing_k
            flow, cooling = pumped.mass_flow_kg_s, pumped.cooling_w
        elif low == low:
            evaporating = float(saturation_temperature(self.med.tables, low))
            condensing = float(saturation_temperature(self.med.tables, high))
        t = self.network.temperatures
        lots = t[7:]
        self.samples.append(
            Sample(
                self.now, self.phase,
                self._t(FRESH_FOOD) if self.masses.fresh_food.volume_m3 > 0.0 else nan,
                self._t(FREEZER), float(np.max(lots)) if lots.size else nan,
                self._t(EVAPORATOR), self.shell, self.condenser, evaporating, condensing, low, high,
                flow, cooling, self._power(pumped), self.displaced,
            )
        )  # fmt: skip

    def _marched(self) -> Marched:
        sides = (self.walls, self.inside, self.migration, self.cooling, self.melted_kg * ICE)
        error = self.walls + self.inside + self.migration - self.cooling
        error -= self.melted_kg * ICE + self.stored
        moved = sum(abs(x) for x in sides)
        return Marched(
            tuple(self.samples), tuple(self.cycles), self.first_stop, self.energy, self.run_total,
            DefrostReport(
                self.defrost_count, self.defrost_energy,
                self.defrost_s / self.defrost_count if self.defrost_count else 0.0, self.melted_kg,
            ),
            Balance(
                self.walls, self.inside, self.migration, self.put_in, self.cooling,
                self.melted_kg * ICE, self.stored, error / max(moved, 1.0),
            ),
            self.trips, self.early, self.unsolved, self.pump.solves, self.pump.fallbacks,
        )  # fmt: skip


def _toward(now: float, end: float, tau: float, seconds: float) -> float:
    return end + (now - end) * exp(-seconds / tau)
