"""The appliance as it stands at one moment: its state, and what can be read from it."""

from __future__ import annotations

from math import nan

import numpy as np

from coldwright.circuit.records import Circuit, Surroundings
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.solver.running import Running
from coldwright.refrigerant.saturation import saturation_temperature
from coldwright.transient.books import Books
from coldwright.transient.doors import Openings
from coldwright.transient.lags import Damper, Metal, toward
from coldwright.transient.masses import Masses
from coldwright.transient.network import EVAPORATOR, FREEZER, FRESH_FOOD, Network
from coldwright.transient.pump import Around, Pump, Pumped
from coldwright.transient.records import Compartment, Phase, Plan, Sample
from coldwright.transient.rest import Stop, pressures


class Held:
    """State of the appliance and what it has moved so far."""

    def __init__(
        self,
        circuit: Circuit,
        surroundings: Surroundings,
        masses: Masses,
        plan: Plan,
        known: Running | None,
    ) -> None:
        self.circuit, self.around, self.plan = circuit, surroundings, plan
        self.masses = masses
        self.packed = pack_circuit(circuit)
        self.pump = Pump(circuit, surroundings)
        self.med = self.pump.med
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
        self.after_since = 0.0
        self.openings = Openings(plan.doors, masses, circuit.cabinet, self.room)
        self.books = Books()
        self.unsolved_piece = 0.0
        self.sensor = 0.0
        self._pumped: Pumped | None = None
        self.waiting = sorted((g for g in plan.goods if g.at_s > 0.0), key=lambda g: g.at_s)

    def _t(self, node: int) -> float:
        return float(self.network.temperatures[node])

    def _sensed_air(self) -> float:
        fresh = self.plan.thermostat.compartment is Compartment.FRESH_FOOD
        return self._t(FRESH_FOOD if fresh else FREEZER)

    def _sensor_after(self, network: Network, seconds: float) -> float:
        fresh = self.plan.thermostat.compartment is Compartment.FRESH_FOOD
        air = float(network.temperatures[FRESH_FOOD if fresh else FREEZER])
        return toward(self.sensor, air, self.plan.thermostat.lag_s, seconds)

    def _share(self) -> float:
        """Of the coil's air, from the fresh-food side behind its damper."""
        share = self.circuit.cabinet.air_share_fraction
        return share * self.damper.open if self.plan.damper else share

    def _felt(self) -> Around:
        air = self.network.mixed_k(self._share())
        wall = self._t(EVAPORATOR)
        return Around(
            air, self._t(FREEZER), wall, self.metal.condenser, self.metal.shell, self.room,
            self.displaced, self.displaced_start, self.pump.coil_conductance(wall, air),
            self.pump.condenser_conductance(self.metal.condenser, self.room),
        )  # fmt: skip

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
