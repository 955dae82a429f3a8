"""A leak rate in every unit, its size and regime, and what the same leak does elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.catalogue.leak_cautions import leak_cautions, sentences
from coldwright.leak import sides
from coldwright.leak.flow import Across, FlowLaw, Opinion, disputed, laws_allowed, opinions
from coldwright.leak.gases import GASES
from coldwright.leak.history import Pace
from coldwright.leak.rates import LeakRate
from coldwright.leak.sides import SIDES, Setting, mean_drive
from coldwright.leak.size import Equivalent, bubble_period, equivalent

NITROGEN_GAUGE_PA = 10e5
VACUUM_PA = 66.66  # 500 micron


@dataclass(frozen=True, slots=True)
class LeakQuestion:
    """A rate of refrigerant and what pressed on it while it was that."""

    rate: LeakRate
    setting: Setting
    side: str = sides.HIGH
    pressure_pa: float | None = None  # absolute, at room temperature; None: mean over ordinary use
    test_gauge_pa: float = NITROGEN_GAUGE_PA
    refrigerant: str = "unknown"
    pace: Pace | None = None


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """The same leak in another state; `low` and `high` are the ends over the laws allowed.

    A negative rate flows inwards and is one of air.
    """

    state: str
    words: str
    gas: str
    inside_pa: float
    by_law: tuple[tuple[str, LeakRate], ...]

    @property
    def low(self) -> LeakRate:
        """The least by any law."""
        return min((r for _, r in self.by_law), key=lambda r: r.mass_flow_kg_s)

    @property
    def high(self) -> LeakRate:
        """The most by any law."""
        return max((r for _, r in self.by_law), key=lambda r: r.mass_flow_kg_s)


@dataclass(frozen=True, slots=True)
class LeakAnswer:
    """What `leak rate` says."""

    question: LeakQuestion
    opinions: tuple[Opinion, ...]
    disputed: bool
    size: Equivalent
    elsewhere: tuple[Elsewhere, ...]
    air_in: tuple[tuple[str, float, float], ...]  # side, least and most [g/yr] if leak is there
    bubble_1mm_s: float
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def leak_rate(question: LeakQuestion) -> LeakAnswer:
    """Everything that follows from one rate.

    Parameters
    ----------
    question : LeakQuestion
        The rate and its circumstances.

    Returns
    -------
    LeakAnswer
        The rate with opinions, sizes, what it does elsewhere, notes.

    Raises
    ------
    OutOfRange
        If the rate or a pressure cannot be.
    """
    setting, rate = question.setting, question.rate
    notes = [*sides.stands_for(question.refrigerant)]
    if question.pressure_pa is None:
        notes.append(
            f"Taken as the mean over ordinary use on the {question.side.replace('_', ' ')}: "
            f"running, idle, and {100 * sides.WARM_SHARE:.0f} % of the time warm."
        )
    scale = setting.room_k / rate.basis_k
    size = equivalent(rate.throughput_pa_m3_s * scale, _pressing(question))
    held = opinions(rate.mbar_l_s, size.knudsen)
    laws = laws_allowed(held)
    if question.side == sides.LOW and sides.below_atmosphere(setting, sides.LOW) > 0.5:
        notes.append(
            "This low side is below the air pressure most of the time: refrigerant leaves only "
            "while it is warm, and air comes in the rest of the time."
        )
    return LeakAnswer(
        question=question,
        opinions=held,
        disputed=disputed(held),
        size=size,
        elsewhere=tuple(_elsewhere(question, laws)),
        air_in=tuple(_air_in(question, laws)),
        bubble_1mm_s=bubble_period(rate.throughput_pa_m3_s, 1e-3),
        notes=tuple(notes),
        cautions=sentences(leak_cautions(question.refrigerant, nitrogen=True)),
    )


def _pressing(question: LeakQuestion) -> list[tuple[float, Across]]:
    """Shares of the time and what pressed while the rate was what it is."""
    setting = question.setting
    if question.pressure_pa is not None:
        return [(1.0, Across(setting.gas, question.pressure_pa, setting.air_pa, setting.room_k))]
    return [
        (p.share, Across(setting.gas, p.pressure_pa, setting.air_pa, p.temperature_k))
        for p in setting.duty(question.side)
    ]


def _reference(question: LeakQuestion, law: FlowLaw) -> float:
    """Drive of the refrigerant while the rate was what it is, over the gas temperature."""
    setting = question.setting
    if question.pressure_pa is None:
        return mean_drive(law, setting, question.side)[0]
    room = setting.room_k
    return law.drive(Across(setting.gas, question.pressure_pa, setting.air_pa, room)) / room


def _elsewhere(question: LeakQuestion, laws: tuple[FlowLaw, ...]) -> list[Elsewhere]:
    setting, room = question.setting, question.setting.room_k
    gas, air, name = setting.gas, setting.air_pa, setting.gas.words
    test = air + question.test_gauge_pa
    states = [
        (f"{side}_{p.name}", f"{name}, {side.replace('_', ' ')} {p.name}", gas, p.pressure_pa,
         air, p.temperature_k)
        for side in SIDES for p in setting.duty(side) if p.name != "warm"
    ]  # fmt: skip
    states += [
        ("standing", f"{name}, standing at room temperature", gas, setting.standing_pa(), air, room)
    ]
    states += [
        (f"test_{g}", f"{GASES[g].words} for a test", GASES[g], test, air, room)
        for g in ("nitrogen", "hydrogen_mixture", "helium")
    ]  # fmt: skip
    states += [("vacuum", "under vacuum, air coming in", GASES["air"], VACUUM_PA, air, room)]
    found = []
    for state, words, inner, inside, outside, t in states:
        through = inner if inside >= outside else GASES["air"]
        temperature = t if through is inner else room
        rates = []
        for law in laws:
            reference = _reference(question, law)
            if reference <= 0.0:
                continue
            drive = law.drive(Across(through, inside, outside, temperature)) / temperature
            moles = question.rate.mass_flow_kg_s / gas.molar_mass_kg_mol * drive / reference
            flow = LeakRate(through, moles * through.molar_mass_kg_mol, question.rate.basis_k)
            rates.append((law.name, flow))
        if rates:
            found.append(Elsewhere(state, words, through.identifier, inside, tuple(rates)))
    return found


def _air_in(question: LeakQuestion, laws: tuple[FlowLaw, ...]) -> list[tuple[str, float, float]]:
    """Air drawn in over a year by a leak of this size on either side [g]."""
    setting = question.setting
    found = []
    for side in SIDES:
        grams = []
        for law in laws:
            reference = _reference(question, law)
            if reference > 0.0:
                inward = mean_drive(law, setting, side)[1]
                moles = question.rate.mass_flow_kg_s / setting.gas.molar_mass_kg_mol
                air = GASES["air"]
                flow = LeakRate(air, moles * inward / reference * air.molar_mass_kg_mol)
                grams.append(flow.g_yr)
        if grams:
            found.append((side, min(grams), max(grams)))
    return found
