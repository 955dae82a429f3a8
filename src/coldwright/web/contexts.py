"""What each template is given: frozen, typed, everything already in words.

A template reads these fields and nothing else; `tests/web/test_contexts.py` pins the two together.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from coldwright.web.contexts_base import Caution as Caution
from coldwright.web.contexts_base import Choice as Choice
from coldwright.web.contexts_base import ChoiceGroup as ChoiceGroup
from coldwright.web.contexts_base import Fact as Fact
from coldwright.web.contexts_base import Field as Field
from coldwright.web.contexts_base import FieldGroup as FieldGroup
from coldwright.web.drawing.records import Drawing

if TYPE_CHECKING:
    from coldwright.web.contexts_log import LogPart
    from coldwright.web.contexts_outcome import OutcomePart


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job in the list."""

    url: str
    title: str
    summary: str
    fault: str


@dataclass(frozen=True, slots=True)
class JobsPage:
    """templates/jobs.html"""

    own: tuple[JobRow, ...]
    invented: tuple[JobRow, ...]
    kind: Field
    refrigerant: Field
    title: Field
    more: tuple[FieldGroup, ...]
    error: str


@dataclass(frozen=True, slots=True)
class AppliancePart:
    """templates/_appliance.html"""

    state: str
    facts: tuple[Fact, ...]
    groups: tuple[FieldGroup, ...]
    error: str


@dataclass(frozen=True, slots=True)
class RefrigerantPart:
    """templates/_refrigerant.html"""

    state: str
    facts: tuple[Fact, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A reading as entered."""

    key: str
    label: str
    entered: str
    uncertainty: str
    note: str
    logged: bool  # from the job's log: nothing to remove


@dataclass(frozen=True, slots=True)
class ReadingForm:
    """templates/_reading_form.html"""

    groups: tuple[ChoiceGroup, ...]
    key_error: str
    value: Field
    uncertainty: Field
    note: Field
    cautions: tuple[Caution, ...]
    replaces: str
    focus: str  # the field the hand goes to next: 'key', 'value', 'uncertainty' or empty


@dataclass(frozen=True, slots=True)
class ReadingsPart:
    """templates/_readings.html"""

    state: str
    rows: tuple[ReadingRow, ...]
    form: ReadingForm


@dataclass(frozen=True, slots=True)
class SignRow:
    """A sign and whether it was seen; `seen` is 'yes', 'no' or empty for not checked."""

    key: str
    label: str
    seen: str
    said: str
    asked: bool
    places: tuple[Choice, ...]
    error: str
    heading: str = ""  # of the group that begins with this row


@dataclass(frozen=True, slots=True)
class SignsPart:
    """templates/_signs.html"""

    state: str
    open: bool
    rows: tuple[SignRow, ...]


@dataclass(frozen=True, slots=True)
class OddsRow:
    """One fault's bar. `now` and `was` are widths in percent; `was` is empty if it did not move."""

    name: str
    percent: str
    now: str
    was: str
    moved: str
    severity: str
    which: str


@dataclass(frozen=True, slots=True)
class ReasonRow:
    """A reading or sign and what it says."""

    what: str
    sentence: str
    favours: str


@dataclass(frozen=True, slots=True)
class ArgumentRow:
    """A fault in question with the sentences for and against it."""

    name: str
    percent: str
    for_it: tuple[str, ...]
    against_it: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MindRow:
    """A check that would overturn the leading fault, and where it is entered."""

    sentence: str
    name: str
    entry_url: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check worth doing next and where to enter its outcome."""

    name: str
    how: str
    worth: str
    value: str
    opens_circuit: bool
    cautions: tuple[Caution, ...]
    entry_url: str
    block_url: str  # the entry form alone; empty where the outcome is a sign


@dataclass(frozen=True, slots=True)
class LookRow:
    """Something to look at before any instrument; `unseen` is empty where no sign records it."""

    name: str
    minutes: str
    how: str
    seen: str
    unseen: str
    cautions: tuple[Caution, ...]
    entry_url: str  # empty where there is nothing to enter


@dataclass(frozen=True, slots=True)
class ElectricalPart:
    """templates/_electrical.html: windings, start device, overload, supply."""

    pins_url: str  # where unnamed pins are named
    state: str
    open: bool
    cautions: tuple[Caution, ...]
    numbers: tuple[Fact, ...]
    findings: tuple[Fact, ...]
    which: str
    notes: tuple[str, ...]
    checks: tuple[CheckRow, ...]


@dataclass(frozen=True, slots=True)
class OddsPage:
    """templates/_odds.html: all that one diagnosis says."""

    state: str
    since: str
    moves: tuple[str, ...]
    rows: tuple[OddsRow, ...]
    small: str
    restriction: str
    sealed: str
    opening: str
    refused: str
    misfit: str
    suspect: str
    suspect_url: str
    reasons_state: str
    reasons: tuple[ReasonRow, ...]
    arguments: tuple[ArgumentRow, ...]
    minds: tuple[MindRow, ...]
    looks: tuple[LookRow, ...]
    checks: tuple[CheckRow, ...]
    choice: str
    plan: str
    electrical: ElectricalPart
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    fine_print: tuple[Fact, ...]
    whole_url: str = ""  # where the whole diagnosis comes from, while this is a first look

    @property
    def settled(self) -> bool:
        """The odds are there."""
        return True


@dataclass(frozen=True, slots=True)
class PendingOdds:
    """templates/_odds_pending.html: not worked out yet, or not possible and why."""

    since: str
    now_url: str
    error: str

    @property
    def settled(self) -> bool:
        """The odds are not there yet."""
        return False


@dataclass(frozen=True, slots=True)
class LeakPlace:
    """A place with its chance; `now` is the bar's width in percent."""

    name: str
    percent: str
    now: str


@dataclass(frozen=True, slots=True)
class LeakRound:
    """Steps that need the same thing inside the circuit."""

    title: str
    methods: tuple[Fact, ...]
    worth: str
    after_yes: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class LeakTried:
    """A step of the search as kept."""

    what: str
    result: str
    remove_url: str


@dataclass(frozen=True, slots=True)
class LeakForm:
    """The form that keeps a step of the search."""

    url: str
    next_step: str
    place: Field
    method: Field
    minutes: Field
    error: str


@dataclass(frozen=True, slots=True)
class LeakPart:
    """templates/_leak.html"""

    state: str
    outcome: str  # found, or left by exclusion; empty while searching
    pace: str
    places: tuple[LeakPlace, ...]
    rest: str
    rounds: tuple[LeakRound, ...]
    promise: str
    tried: tuple[LeakTried, ...]
    form: LeakForm
    sight: tuple[str, ...]
    barred: tuple[Fact, ...]
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]

    @property
    def settled(self) -> bool:
        """The plan is there."""
        return True


@dataclass(frozen=True, slots=True)
class PendingLeak:
    """templates/_leak_pending.html: not asked for yet, or not possible and why."""

    state: str
    now_url: str
    block_url: str
    error: str

    @property
    def settled(self) -> bool:
        """The plan is not there."""
        return False


@dataclass(frozen=True, slots=True)
class HoursPage:
    """templates/hours.html"""

    url: str
    title: str
    faults: tuple[Choice, ...]
    severity: str
    lengths: tuple[Choice, ...]
    error: str
    facts: tuple[Fact, ...]  # empty before it was asked for
    figure: Markup
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JobPage:
    """templates/job.html"""

    url: str
    title: str
    invented: bool
    summary: str
    cautions: tuple[Caution, ...]
    cautions_state: str
    appliance: AppliancePart
    refrigerant: RefrigerantPart
    drawing: Drawing
    readings: ReadingsPart
    signs: SignsPart
    odds: OddsPage | PendingOdds
    leak: LeakPart | PendingLeak
    outcome: OutcomePart
    log: LogPart


@dataclass(frozen=True, slots=True)
class ErrorPage:
    """templates/error.html"""

    title: str
    message: str
