"""Heats of one step: what the coil, the doors, the heater and migration bring, and frost."""

from __future__ import annotations

from coldwright.circuit.records import EvaporatorKind
from coldwright.cycle.humid_air import FREEZING_K
from coldwright.transient.held import Held
from coldwright.transient.moist import ICE
from coldwright.transient.network import EVAPORATOR, FREEZER, Push, split
from coldwright.transient.pump import Pumped
from coldwright.transient.records import Phase
from coldwright.transient.rest import gone

FAN_STOPPED = 0.05  # of the running conductance passes between a finned coil and its air (ours)
FAN_STOPPED_HOT = 0.15  # while the heater makes the air rise (ours)


class Heated(Held):
    """The appliance with the heats of its next step."""

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

    def _melt(self) -> None:
        wall = self._t(EVAPORATOR)
        if wall <= FREEZING_K or self.frost_kg <= 0.0:
            return
        c = self.masses.evaporator_j_k
        melted = min(c * (wall - FREEZING_K) / ICE, self.frost_kg)
        self.frost_kg -= melted
        self.network.temperatures[EVAPORATOR] = wall - melted * ICE / c
        self.books.melted(melted)
