"""The march through time: steps and bookkeeping.

A step's heats are those at its begin; the network moves implicitly. After an event steps are
short and grow. A thermostat or a defrost that would switch within a step ends it there.
State, heats and switching: `held`, `heats`, `switches`.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, nan

from coldwright.errors import NotSolved
from coldwright.transient.books import Marched
from coldwright.transient.network import EVAPORATOR, FREEZER, FRESH_FOOD
from coldwright.transient.pump import Pumped
from coldwright.transient.records import Phase
from coldwright.transient.rest import long_at_rest, stop
from coldwright.transient.switches import Switched

FIRST_STEP_S, GROWTH = 5.0, 1.3  # after an event; ours
LONGEST_OFF_STEP_S = 60.0
LONGEST_DEFROST_STEP_S = 15.0
LONG_AGO_S = 86400.0  # of the last stop, where a run begins at rest (ours)
MOST_UNSOLVED_S = 1200.0  # bridged in one piece, then given up (ours)
REPORT_EVERY_S = 3600.0


class March(Switched):
    """The appliance marched to the end of its plan."""

    def run(self, progress: Callable[[str], None] | None = None) -> Marched:
        """March to the end.

        Parameters
        ----------
        progress : callable, optional
            Is told the hour reached.

        Returns
        -------
        Marched
            Samples, cycles and sums.

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
        self._pumped = None
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

    def _pumped_back(self, pumped: Pumped, seconds: float) -> None:
        """The pump brings back what the capillary does not yet pass."""
        if self.displaced > 0.0:
            self.displaced *= exp(-pumped.displaced_kg_s / self.displaced * seconds)
