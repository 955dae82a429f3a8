"""The march through time: phases, events, bookkeeping.

A step's heats are those at its begin; the network moves implicitly. After an event steps are
short and grow. A thermostat or a defrost that would switch within a step ends it there.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, nan

import numpy as np

from coldwright.circuit.records import Circuit, EvaporatorKind, Surroundings
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.medium import Medium
from coldwright.cycle.running import Running
from coldwright.errors import NotSolved
from coldwright.refrigerant.saturation import saturation_temperature
from coldwright.transient.books import Books, Marched
from coldwright.transient.doors import Openings
from coldwright.transient.lags import Damper, Metal, toward
from coldwright.transient.masses import Masses
from coldwright.transient.moist import FREEZING, ICE
from coldwright.transient.network import (
    EVAPORATOR,
    FREEZER,
    FRESH_FOOD,
    Network,
    Push,
    split,
)
from coldwright.transient.pump import Around, Pump, Pumped
from coldwright.transient.records import Compartment, Defrost, Phase, Plan, Sample
from coldwright.transient.rest import Stop, gone, long_at_rest, pressures, stop

FIRST_STEP_S, GROWTH = 5.0, 1.3  # after an event; ours
LONGEST_OFF_STEP_S = 60.0
LONGEST_DEFROST_STEP_S = 15.0
FAN_STOPPED = 0.05  # of the running conductance passes between a finned coil and its air (ours)
FAN_STOPPED_HOT = 0.15  # while the heater makes the air rise (ours)
OVERLOAD_S = 300.0  # an overload stays open about so long (common practice, no published source)
LONG_AGO_S = 86400.0  # of the last stop, where a run begins at rest (ours)
MOST_UNSOLVED_S = 1200.0  # bridged in one piece, then given up (ours)
REPORT_EVERY_S = 3600.0


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
        self.frost_kg = 0.0
        self.damper = Damper(circuit.cabinet.fresh_food_set_k)
        self.metal = Metal(circuit, masses, self.room)
        self.run_since_defrost = 0.0
        self.displaced, self.displaced_start = 0.0, 0.0
        self.after: Stop | None = None
        self.openings = Openings(plan.doors, masses, circuit.cabinet, self.room)
        self.books = Books()
        self.unsolved_piece = 0.0
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
        return self.books.marched(self.pump.solves, self.pump.fallbacks)

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
        self.after, self.after_since = None, 0.0
        if not plan.runs:
            self.after = long_at_rest(self.med, self.packed, room)
            self.after_since = -LONG_AGO_S
        elif not plan.blocked:
            self.after = stop(
                self.med, self.packed, known, evaporator_k=self._t(EVAPORATOR), room_k=room,
                shell_k=room, displaced_kg=0.0,
            )  # fmt: skip
            self.after_since = -LONG_AGO_S
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
            self.books.goods_in += self.network.put_in(self.waiting.pop(0))

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
        self.frost_kg += self.openings.done(self.network, seconds)
        self.network = trial
        self.books.step(
            seconds=seconds, moved=moved, inside_w=inside, migration_j=self._migration(seconds),
            power_w=self._power(pumped),
        )  # fmt: skip
        if pumped is not None:
            self.books.ran(pumped, seconds)
            self.run_since_defrost += seconds
            self._pumped_back(pumped, seconds)
        elif self._heater_w() > 0.0:
            self.books.heated(self._heater_w(), seconds)
        room_w_k = self.pump.condenser_conductance(self.metal.condenser, self.room)
        self.metal.step(pumped, room_w_k, self._t(FREEZER), seconds)
        self._melt()
        self.damper.step(self._t(FRESH_FOOD), seconds)
        self.sensor = self._sensor_after(self.network, seconds)
        self.now += seconds
        return seconds, self._switch(pumped)

    def _run_pump(self, seconds: float) -> Pumped:
        pumped = self.pump.at(self._felt())
        if pumped.solved:
            self.unsolved_piece = 0.0
        else:
            self.books.unsolved += seconds
            self.unsolved_piece += seconds
            if self.unsolved_piece > MOST_UNSOLVED_S:
                u = tuple(float(x) for x in self.pump.u)
                raise NotSolved(f"running state {self.now / 60.0:.0f} min after the begin", u, nan)
        return pumped

    def _felt(self) -> Around:
        air = self.network.mixed_k(self._share())
        wall = self._t(EVAPORATOR)
        return Around(
            air, self._t(FREEZER), wall, self.metal.condenser, self.metal.shell, self.room,
            self.displaced, self.displaced_start, self.pump.coil_conductance(wall, air),
            self.pump.condenser_conductance(self.metal.condenser, self.room),
        )  # fmt: skip

    def _share(self) -> float:
        """Of the coil's air, from the fresh-food side behind its damper."""
        share = self.circuit.cabinet.air_share_fraction
        return share * self.damper.open if self.plan.damper else share

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
            heat += inward * (self.metal.condenser - self._t(FREEZER))
        ff, fz = split(self.masses, heat)
        door_ff, door_fz = self.openings.heat(self.network, seconds)
        at_coil = self._heater_w() if pumped is None else -pumped.cooling_w
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

    # -- after a step -----------------------------------------------------------------------
    def _heater_w(self) -> float:
        """Of the defrost, while it is on. [W]"""
        on = self.phase is Phase.DEFROST and self.plan.defrost is not None
        return self.plan.defrost.heater_w if on and self.plan.defrost is not None else 0.0

    def _power(self, pumped: Pumped | None) -> float:
        """Of the whole appliance, electric heaters of the cabinet included. [W]"""
        k = self.circuit.cabinet
        power = k.controls_power_w + k.heater_power_w + self._heater_w()
        if pumped is not None:
            power += pumped.compressor_w + k.evaporator_fan_power_w + k.condenser_fan_power_w
        return power

    def _pumped_back(self, pumped: Pumped, seconds: float) -> None:
        """The pump brings back what the capillary does not yet pass."""
        if self.displaced > 0.0:
            self.displaced *= exp(-pumped.displaced_kg_s / self.displaced * seconds)

    def _melt(self) -> None:
        wall = self._t(EVAPORATOR)
        if wall <= FREEZING or self.frost_kg <= 0.0:
            return
        c = self.masses.evaporator_j_k
        melted = min(c * (wall - FREEZING) / ICE, self.frost_kg)
        self.frost_kg -= melted
        self.network.temperatures[EVAPORATOR] = wall - melted * ICE / c
        self.books.melted(melted)

    def _sensor_after(self, network: Network, seconds: float) -> float:
        fresh = self.plan.thermostat.compartment is Compartment.FRESH_FOOD
        air = float(network.temperatures[FRESH_FOOD if fresh else FREEZER])
        return toward(self.sensor, air, self.plan.thermostat.lag_s, seconds)

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
                self.books.trips += 1
                return self._stop(Phase.TRIPPED)
            if plan.defrost is not None and self.run_since_defrost >= plan.defrost.interval_s:
                self._stop(Phase.DEFROST)
                self.books.defrosts += 1
                self.books.open.defrosted = True
                return True
            if self.sensor <= plan.thermostat.cut_out_k + slack:
                if self.books.first_stop != self.books.first_stop:
                    self.books.first_stop = self.now
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
            room_k=self.room, shell_k=self.metal.shell, displaced_kg=self.displaced,
        )  # fmt: skip
        self.after_since = self.now
        return True

    def _start(self) -> bool:
        books = self.books
        books.begin_cycle(self.now)
        if self.after is not None and not self.plan.blocked:
            seconds = self.now - self.after_since
            _, _, self.displaced = self._levels(self.after)
            books.open.equalised = gone(self.after, seconds)
            if seconds < self.after.equalising_s:
                books.early += 1
        self.displaced_start = self.displaced
        books.open.displaced_kg = self.displaced
        self.phase, self.phase_since = Phase.RUNNING, self.now
        self._pumped = self.pump.start(self._felt())
        return True

    # -- what is kept -----------------------------------------------------------------------
    def _levels(self, after: Stop) -> tuple[float, float, float]:
        return pressures(
            self.med, self.packed, after, seconds=self.now - self.after_since,
            evaporator_k=self._t(EVAPORATOR), room_k=self.room, shell_k=self.metal.shell,
        )  # fmt: skip

    def _pressures(self) -> tuple[float, float]:
        if self.phase is Phase.RUNNING or self.after is None:
            return nan, nan
        low, high, _ = self._levels(self.after)
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
        self.books.samples.append(
            Sample(
                self.now, self.phase,
                self._t(FRESH_FOOD) if self.masses.fresh_food.volume_m3 > 0.0 else nan,
                self._t(FREEZER), float(np.max(lots)) if lots.size else nan,
                self._t(EVAPORATOR), self.metal.shell, self.metal.condenser, evaporating,
                condensing, low, high, flow, cooling, self._power(pumped), self.displaced,
            )
        )  # fmt: skip
