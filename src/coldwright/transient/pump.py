"""The running circuit while its metal still lags behind: quasi-steady, with displaced boundaries.

The steady circuit knows air and room, no walls. A wall of heat capacity C between refrigerant
and air is put between by moving the boundary that the circuit sees: with air at T' instead of
T the refrigerant takes Q, the wall's mean temperature is then T_w = T' - Q/G, and the wall
obeys C dT_w/dt = G (T - T_w) - Q. T' is the one that gives the wall's temperature. Where
nothing changes any more T' = T, whatever G: the steady state is the steady circuit's own.
The same holds for the condenser with the room, and for the shell by the conductance that
leaves it at its temperature.

After a start the high side lacks what has moved to the evaporator. The capillary passes what
a circuit of so much less charge would; the pump draws on the liquid in the evaporator as well,
which boils at the wall's temperature, until it has brought the missing mass back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import log

import numpy as np

from coldwright.circuit.records import Circuit, Surroundings
from coldwright.circuit.vector import CIRCUIT, SURROUNDINGS, pack_circuit, pack_surroundings
from coldwright.cycle.air_side import (
    condenser_conductance,
    evaporator_conductance,
    wire_and_tube_shape,
)
from coldwright.cycle.compressor.physical import volumetric_efficiency
from coldwright.cycle.medium import medium_of
from coldwright.cycle.solver.members import flat, solve_member, still
from coldwright.cycle.solver.newton import ACCEPTED, IMPOSED, newton
from coldwright.cycle.solver.running import Running
from coldwright.cycle.state import NO, PUMPED_DOWN, SOLVED, STATE, TRIPPED, YES
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

SLOPES = (0.6, 4.0)  # of a boundary's equation, a guard on the secant, ours
LONGEST_MOVES = (8.0, 1.5)  # of a boundary in one correction, at a start and later [K] (ours)
START_PASSES = 6  # corrections at a start, where nothing is known yet
MOST_HELD = 2  # states in a row taken over from the one before, ours
LEAST_ACTIVE = 0.25  # of the charge takes part however much has moved; ours
SHELL_SPAN = (0.02, 60.0)  # of the conductance that stands for a lagging shell; a guard, ours
BOILING_APPROACH = 2.0  # of liquid of its own below the evaporator's wall [K] (ours)
# Of it boils as freely as on a wetted wall; the rest lies in pools, in the accumulator, in the
# oil. Set by us so that cycling loses 3 to 17 % of capacity (Coulter & Bullard 1995, abstract).
OWN_LIQUID = 0.25
SUCTION_WARMED = 1.15  # specific volume at the pump over saturated vapour's, ours
LEAST_RISE = 0.5  # of the shell above the boundary, a guard [K]


@dataclass(frozen=True, slots=True)
class Around:
    """What the circuit feels at a moment."""

    air_k: float  # that returns to the evaporator
    freezer_k: float
    evaporator_k: float  # wall
    condenser_k: float  # wall
    shell_k: float
    room_k: float
    displaced_kg: float  # missing from the high side
    displaced_start_kg: float  # at the start
    evaporator_w_k: float  # coil to air
    condenser_w_k: float  # to the room


@dataclass(frozen=True, slots=True)
class Pumped:
    """What the running circuit does at a moment."""

    cooling_w: float  # out of the evaporator's wall
    compressor_w: float
    condenser_w: float  # into its wall
    shell_w: float  # into it
    mass_flow_kg_s: float
    displaced_kg_s: float  # coming back to the high side
    evaporating_k: float
    condensing_k: float
    suction_pressure_pa: float
    discharge_pressure_pa: float
    high_side_kg: float
    tripped: bool
    solved: bool


class _Shift:
    """How far a boundary is displaced; corrected by the secant of its own equation."""

    def __init__(self) -> None:
        self.value = 0.0  # [K]
        self._before, self._miss_before, self._slope = 0.0, 0.0, 1.0

    def toward(self, wanted: float, longest: float) -> None:
        """Correct once; `wanted` is what the state just found asks for."""
        miss = self.value - wanted
        moved = self.value - self._before
        if abs(moved) > 1e-3:
            slope = (miss - self._miss_before) / moved
            if slope > 0.0:
                self._slope = min(max(slope, SLOPES[0]), SLOPES[1])
        self._before, self._miss_before = self.value, miss
        self.value -= min(max(miss / self._slope, -longest), longest)


class Pump:
    """Solves one running state after the other, each from the one before."""

    def __init__(self, circuit: Circuit, surroundings: Surroundings) -> None:
        self.circuit, self.med = circuit, medium_of(circuit)
        self.c, self.s = pack_circuit(circuit), pack_surroundings(surroundings)
        self.u = np.zeros(5)
        self.out = np.zeros(1, STATE)
        self.solves = self.fallbacks = 0
        self._path = still(self.c, self.s)
        self._known_c, self._known_s = self.c.copy(), self.s.copy()
        self._known_u = self.u.copy()
        self._work_c, self._work_s = np.zeros(1, CIRCUIT), np.zeros(1, SURROUNDINGS)
        self._shape = wire_and_tube_shape(self.c[0]["condenser"])
        self._blocked: Running | None = None
        self._started: tuple[np.ndarray, np.ndarray, np.ndarray] | None = None
        self._air, self._sink = _Shift(), _Shift()
        self._shell_w = 0.0
        self._held, self._starting = 0, False

    def begin(self, known: Running) -> None:
        """Take a solved state to start from.

        Parameters
        ----------
        known : Running
            Of this circuit at its settings, thermostat in charge or not.
        """
        if known.state.status_code == PUMPED_DOWN:
            self._blocked = known
            return
        self.s["fresh_food_k"], self.s["freezer_k"] = (
            known.state.fresh_food_k,
            known.state.freezer_k,
        )
        self.u[:] = known.unknowns
        self._remember()
        for name in STATE.names or ():
            self.out[name] = getattr(known.state, name)
        self._shell_w = known.state.shell_heat_w

    def coil_conductance(self, evaporator_k: float, air_k: float) -> float:
        """Evaporator's wall to its air while running. [W/K]

        Parameters
        ----------
        evaporator_k : float
            Wall. [K]
        air_k : float
            Air that returns to it. [K]
        """
        capacity = self.circuit.cabinet.air_capacity_w_k
        g = evaporator_conductance(self.c[0]["evaporator"], capacity, evaporator_k, air_k)
        return max(float(g), 1e-3)

    def condenser_conductance(self, condenser_k: float, room_k: float) -> float:
        """Condenser's wall to the room. [W/K]

        Parameters
        ----------
        condenser_k : float
            Wall. [K]
        room_k : float
            Room. [K]
        """
        g = condenser_conductance(self.c[0]["condenser"], self._shape, condenser_k, room_k)
        return max(float(g), 1e-3)

    def start(self, around: Around) -> Pumped:
        """The first state after a stop: boundaries found in a few passes.

        Parameters
        ----------
        around : Around
            As it stands at the start.
        """
        self._shell_w = max(self._shell_w, 0.2 * float(self.out["compressor_power_w"][0]))
        if self._started is not None:
            # Starts of one run are alike: the last one is nearer than the last stop
            for kept, known in zip(
                self._started, (self._known_c, self._known_s, self._known_u), strict=True
            ):
                known[:] = kept
            self.u[:] = self._known_u
        self._starting = True
        found = self.at(around)
        for _ in range(START_PASSES - 1):
            found = self.at(around)
        self._starting = False
        self._started = (self._known_c.copy(), self._known_s.copy(), self._known_u.copy())
        return found

    def at(self, around: Around) -> Pumped:
        """The running state now.

        Parameters
        ----------
        around : Around
            As it stands.
        """
        if self._blocked is not None:
            return self._pumped_down(self._blocked, around)
        air = around.air_k
        room = around.room_k + self._sink.value
        self.s["room_k"] = room
        # The circuit sees air by its mean only; it is one temperature here
        inside = air + self._air.value
        self.s["fresh_food_k"], self.s["freezer_k"] = inside, inside
        rise = max(around.shell_k - room, LEAST_RISE)
        ua = self.circuit.compressor.shell_conductance_w_k
        low, high = SHELL_SPAN
        self.c["compressor"]["shell_conductance_w_k"] = min(
            max(self._shell_w / rise, low * ua), high * ua
        )
        active = max(
            self.circuit.charge_kg - around.displaced_kg, LEAST_ACTIVE * self.circuit.charge_kg
        )
        self.c["charge_kg"] = active
        solved = self._solve()
        state = self.out[0]
        self._shell_w = float(state["shell_heat_w"])
        cooling, heat = float(state["cooling_w"]), float(state["condenser_heat_w"])
        # Boundaries for the next time: the shift that gives each wall its temperature
        wanted = around.evaporator_k + cooling / around.evaporator_w_k - air
        self._air.toward(wanted, self._longest_move())
        inward = self.circuit.condenser.inward_conductance_w_k
        g = around.condenser_w_k
        sink = around.condenser_k - heat / (g + inward)
        wanted = (sink * (g + inward) - inward * inside) / g - around.room_k
        self._sink.toward(wanted, self._longest_move())
        found = Pumped(
            cooling, float(state["compressor_power_w"]), heat, self._shell_w,
            float(state["mass_flow_kg_s"]), 0.0,
            float(state["evaporating_k"]), float(state["condensing_k"]),
            float(state["suction_pressure_pa"]), float(state["condensing_pressure_pa"]),
            float(state["charge_condenser_kg"] + state["charge_liquid_line_kg"]),
            bool(state["status_code"] == TRIPPED), solved,
        )  # fmt: skip
        return self._drawing(found, around)

    def _drawing(self, fed: Pumped, around: Around) -> Pumped:
        """The same while liquid of the evaporator's own is left: fed in part by it.

        m (h_out - h_in) of the capillary's part and m (h_out - h_liquid) of the rest; power
        and condenser heat in proportion to flow and to the logarithm of the pressure ratio.
        """
        if around.displaced_kg <= 0.0 or around.displaced_start_kg <= 0.0:
            return fed
        tab, state, k = self.med.tables, self.out[0], self.circuit.compressor
        share = min(around.displaced_kg / around.displaced_start_kg, 1.0)
        warm = min(around.evaporator_k, around.condenser_k) - BOILING_APPROACH
        high = fed.discharge_pressure_pa
        low = min(max(saturation_pressure(tab, warm), fed.suction_pressure_pa), 0.9 * high)
        ratio = high / low
        flow = k.displacement_m3 * k.speed_1_s * k.flow_factor_fraction * volumetric_efficiency(
            ratio, k.clearance_fraction, k.reexpansion_exponent
        ) / (SUCTION_WARMED * saturation_all(tab, low)[4])  # fmt: skip
        flow = max(flow, fed.mass_flow_kg_s)
        work = (fed.compressor_w - k.idle_power_w) / fed.mass_flow_kg_s
        work *= log(ratio) / log(high / fed.suction_pressure_pa)
        own = OWN_LIQUID * share
        m = fed.mass_flow_kg_s + own * (flow - fed.mass_flow_kg_s)
        power = fed.compressor_w + own * (k.idle_power_w + flow * work - fed.compressor_w)
        pressure = fed.suction_pressure_pa + own * (low - fed.suction_pressure_pa)
        now = saturation_all(tab, pressure)
        out = float(state["enthalpy_evaporator_out_j_kg"])
        fed_in = float(state["enthalpy_evaporator_in_j_kg"])
        cooling = m * ((1.0 - share) * (out - fed_in) + share * (now[2] - now[1]))
        return replace(
            fed,
            cooling_w=cooling,
            compressor_w=power,
            condenser_w=fed.condenser_w * m / fed.mass_flow_kg_s,
            mass_flow_kg_s=m,
            displaced_kg_s=m * share,
            suction_pressure_pa=pressure,
            evaporating_k=float(now[0]),
        )

    def _longest_move(self) -> float:
        return LONGEST_MOVES[0] if self._starting else LONGEST_MOVES[1]

    def _solve(self) -> bool:
        """Newton from the last state, else the curve from it; on failure the last state stays."""
        self.solves += 1
        out, u = self.out, self.u
        residual, _ = newton(self.med, self.c[0], self.s[0], u, IMPOSED, NO, self._path, out[0])
        if residual < ACCEPTED:
            out["status_code"] = SOLVED
            self._remember()
            return True
        # Where flow in the bond is about to choke, the flow it passes is the smoother measure
        u[:] = self._known_u
        residual, _ = newton(self.med, self.c[0], self.s[0], u, IMPOSED, YES, self._path, out[0])
        if residual < ACCEPTED:
            out["status_code"] = SOLVED
            self._remember()
            return True
        if self._held < MOST_HELD and float(self._known_u[1]) > 0.0 and not self._starting:
            # A narrow fold: the boundaries move on and leave it behind
            self._held += 1
            return self._hold()
        self._held = 0
        self.fallbacks += 1
        u[:] = self._known_u
        solve_member(
            self.med, flat(self._known_c)[0], flat(self._known_s)[0], flat(self.c)[0],
            flat(self.s)[0], flat(self._work_c)[0], flat(self._work_s)[0], self._work_c[0],
            self._work_s[0], False, False, u, out[0],
        )  # fmt: skip
        if float(out["status_code"][0]) == SOLVED:
            self._remember()
            return True
        if float(out["status_code"][0]) == TRIPPED:
            u[:] = self._known_u
            return True
        return self._hold()

    def _hold(self) -> bool:
        """The state before, once more."""
        self.u[:] = self._known_u
        newton(
            self.med, self._known_c[0], self._known_s[0], self.u, IMPOSED, NO,
            still(self._known_c, self._known_s), self.out[0],
        )  # fmt: skip
        self.out["status_code"] = SOLVED
        return False

    def _remember(self) -> None:
        self._known_c[:], self._known_s[:], self._known_u[:] = self.c, self.s, self.u
        self._held = 0

    def _pumped_down(self, known: Running, around: Around) -> Pumped:
        """A blocked capillary: nothing flows, the pump idles."""
        state = known.state
        return Pumped(
            0.0, state.compressor_power_w, 0.0, state.shell_heat_w, 0.0, 0.0, around.evaporator_k,
            around.room_k, state.suction_pressure_pa, state.condensing_pressure_pa,
            state.charge_condenser_kg, False, True,
        )  # fmt: skip
