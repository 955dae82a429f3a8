"""What a march has moved so far: heats, energies, cycles, and how well they close."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

from coldwright.transient.moist import ICE
from coldwright.transient.network import Moved
from coldwright.transient.pump import Pumped
from coldwright.transient.records import Balance, Cycle, DefrostReport, Sample


@dataclass(frozen=True, slots=True)
class Marched:
    """All that a march has kept."""

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


class Books:
    """Sums over the march, and the cycle under way."""

    def __init__(self) -> None:
        self.samples: list[Sample] = []
        self.cycles: list[Cycle] = []
        self.open = _Open()
        self.first_stop = nan
        self.trips = self.early = self.defrosts = 0
        self.unsolved = self.goods_in = 0.0
        self._energy = self._run = self._defrost_j = self._defrost_s = self._melted = 0.0
        self._walls = self._inside = self._migration = self._cooling = self._stored = 0.0

    def step(
        self, *, seconds: float, moved: Moved, inside_w: float, migration_j: float, power_w: float
    ) -> None:
        """Book what every step moves.

        Parameters
        ----------
        seconds : float
            Length. [s]
        moved : Moved
            By the network.
        inside_w : float
            Heat set free inside the cabinet. [W]
        migration_j : float
            Brought by refrigerant at rest. [J]
        power_w : float
            Of the whole appliance. [W]
        """
        self._walls += moved.walls_j
        self._stored += moved.stored_j
        self._inside += inside_w * seconds
        self._migration += migration_j
        self.open.migration_j += migration_j
        self._energy += power_w * seconds
        self.open.energy_j += power_w * seconds

    def ran(self, pumped: Pumped, seconds: float) -> None:
        """Book a step of the compressor.

        Parameters
        ----------
        pumped : Pumped
            What it did.
        seconds : float
            Length. [s]
        """
        self._cooling += pumped.cooling_w * seconds
        self.open.cooling_j += pumped.cooling_w * seconds
        self.open.compressor_j += pumped.compressor_w * seconds
        self.open.run_s += seconds
        self._run += seconds

    def heated(self, heater_w: float, seconds: float) -> None:
        """Book a step of a defrost.

        Parameters
        ----------
        heater_w : float
            Its heater. [W]
        seconds : float
            Length. [s]
        """
        self._inside += heater_w * seconds
        self._defrost_j += heater_w * seconds
        self._defrost_s += seconds

    def melted(self, kg: float) -> None:
        """Book frost that melted and ran off; its latent heat goes with it.

        Parameters
        ----------
        kg : float
            Mass. [kg]
        """
        self._melted += kg
        self._stored -= kg * ICE

    def begin_cycle(self, now: float) -> None:
        """Close the cycle under way, if there was one, and open the next.

        Parameters
        ----------
        now : float
            Time. [s]
        """
        o = self.open
        if o.run_s > 0.0 or self.cycles:
            self.cycles.append(
                Cycle(
                    o.start_s, o.run_s, now - o.start_s - o.run_s, o.energy_j, o.cooling_j,
                    o.compressor_j, o.migration_j, o.displaced_kg, o.equalised, o.defrosted,
                )
            )  # fmt: skip
        self.open = _Open(start_s=now)

    def marched(self, solves: int, fallbacks: int) -> Marched:
        """The frozen result.

        Parameters
        ----------
        solves, fallbacks : int
            Running states solved, and those found by the long way. [-]

        Returns
        -------
        Marched
            All that was booked.
        """
        melted = self._melted * ICE
        error = self._walls + self._inside + self._migration - self._cooling - melted
        error -= self._stored
        moved = abs(self._walls) + abs(self._inside) + abs(self._migration) + self._cooling + melted
        each = self._defrost_s / self.defrosts if self.defrosts else 0.0
        return Marched(
            tuple(self.samples), tuple(self.cycles), self.first_stop, self._energy, self._run,
            DefrostReport(self.defrosts, self._defrost_j, each, self._melted),
            Balance(
                self._walls, self._inside, self._migration, self.goods_in, self._cooling, melted,
                self._stored, error / max(moved, 1.0),
            ),
            self.trips, self.early, self.unsolved, solves, fallbacks,
        )  # fmt: skip
