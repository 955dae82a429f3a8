"""What switches: thermostat, overload, defrost; start and stop of the compressor."""

from __future__ import annotations

from coldwright.transient.heats import Heated
from coldwright.transient.network import EVAPORATOR, Network
from coldwright.transient.pump import Pumped
from coldwright.transient.records import Defrost, Phase
from coldwright.transient.rest import gone, stop

OVERLOAD_S = 300.0  # an overload stays open about so long (common practice, no published source)


class Switched(Heated):
    """The appliance with what starts and stops it."""

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
