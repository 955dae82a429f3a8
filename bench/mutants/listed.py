"""The list of mutants: where, what stands there, what is put there, why it matters, who kills it.

`old` stands exactly once in its file, or the list is no longer true and is refused.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mutant:
    """One small error. `file` lies in the package, `killers` in tests/."""

    file: str
    old: str
    new: str
    matters: str
    killers: tuple[str, ...]


FINANCE = ("repair/test_finance.py",)
SHARES = ("unit/test_learning_shares.py",)
OUTCOMES = ("unit/test_outcomes.py",)
SHELF = ("web/test_shelf.py",)
STORE = ("web/test_odds_store.py",)
GUARD = ("web/test_app.py", "web/test_hostile.py")
BOUNDARY = (
    "unit/test_cli_boundary.py::test_an_interrupt_stops_quietly",
    "unit/test_cli_boundary.py::test_an_error_nobody_foresaw_is_one_line_and_a_report",
)
TEXT = ("unit/test_cli_text.py",)
WORTH = ("repair/test_worth.py",)
PARTS = ("repair/test_parts.py",)
LIKELIHOOD = ("inference/test_likelihood.py",)
PRIORS = ("unit/test_catalogue_priors.py",)
QUEUE = ("storage/test_in_time.py",)

MUTANTS = (
    # money
    Mutant("worth/finance.py", "-n * np.log1p(rate)", "n * np.log1p(rate)",
           "present value with the wrong sign", FINANCE),
    Mutant("worth/finance.py", "        return n\n", "        return 0.0 * n\n",
           "no rate, no cost", FINANCE),
    Mutant("worth/finance.py", "return price / float(", "return price * float(",
           "yearly payment upside down", FINANCE),
    Mutant("worth/lifetimes.py", "** (1.0 / SHAPE) - age", "** (1.0 / SHAPE)",
           "years already lived counted again", FINANCE),
    Mutant("worth/lifetimes.py", "gamma(1.0 + 1.0 / SHAPE)", "gamma(1.0 + SHAPE)",
           "mean life not the mean", FINANCE),
    Mutant("worth/verdict.py", "return success >= LEAST_CHANCE", "return True",
           "repairs that cannot work are ranked", WORTH),
    Mutant("worth/verdict.py", "np.argmin(table, axis=0)", "np.argmax(table, axis=0)",
           "the dearest called cheapest", WORTH),
    Mutant("worth/verdict.py", "if getattr(world.prices, name) is None", "if False",
           "missing prices unsaid", WORTH),
    Mutant("worth/verdict.py", '+ world.price("disposal")\n', "+ 0.0\n",
           "taking the old one away is free", WORTH),
    Mutant("worth/verdict.py", "not w.ranked, w.money.mean if", "w.ranked, w.money.mean if",
           "what does not serve told first", WORTH),
    Mutant("repair/drier.py", "if situation.flammable:", "if False:",
           "no word against a flame on a flammable circuit", PARTS),
    Mutant("repair/drier.py", 'if name == "R134a":', 'if name == "R12":',
           "an R12 drier let through", PARTS),
    Mutant("repair/nitrogen_flow.py", "2.0 * log(inlet_pressure / end)", "0.0",
           "acceleration of the gas left out", PARTS),
    Mutant("repair/nitrogen_flow.py", "* 60_000.0", "* 1_000.0", "litres per second", PARTS),
    Mutant("repair/dew.py", "frame < dew", "frame > dew", "dry frames called wet", WORTH),
    # inference
    Mutant("learning/shares.py", "alpha = worth * m + n", "alpha = worth * m",
           "found faults do not count", SHARES),
    Mutant("learning/shares.py", "new = alpha / (worth + exposure)", "new = alpha / worth",
           "complaints not divided out", SHARES),
    Mutant("learning/shares.py", "np.diag(alpha) - p.T @ p", "np.diag(alpha)",
           "interval too narrow", SHARES),
    Mutant("learning/proven.py", 'outcome.proven_by == "seen" and inside', "False and inside",
           "faults inside counted as seen", OUTCOMES),
    Mutant("learning/proven.py", "clashing.add(made.content)", "pass",
           "contradicting outcomes count", OUTCOMES),
    Mutant("learning/proven.py", "other.body == body and bool(named)", "False",
           "a job's own outcome counts for itself", OUTCOMES),
    Mutant("learning/proven.py", "silent.get(name, 0) + 1", "1",
           "jobs without outcome miscounted", OUTCOMES),
    Mutant("learning/learned.py", "if j.refrigerant == refrigerant]", "if True]",
           "refrigerants mixed", OUTCOMES),
    Mutant("learning/learned.py", "+ KINDS_WORTH + 1.0)", "+ 1.0)",
           "other kinds outweigh the own", OUTCOMES),
    Mutant("learning/learned.py", "job.found[::-1]", "job.found",
           "a pair noted in the other order lost", OUTCOMES),
    Mutant("learning/learned.py", "+= 1.0 / len(counted)", "+= 1.0",
           "a pair counts as two jobs", OUTCOMES),
    Mutant("learning/learned.py", "s.after / s.before for s", "s.before / s.after for s",
           "learning turned round", OUTCOMES),
    Mutant("diagnosis/likelihood.py", "log_det += log(cov[i, i])", "log_det -= log(cov[i, i])",
           "vague members favoured", LIKELIHOOD),
    Mutant("diagnosis/likelihood.py", "shrink = degrees / (degrees - 2.0)", "shrink = 1.0",
           "the errors given are not the errors used", LIKELIHOOD),
    Mutant("diagnosis/likelihood.py", "out[i], distance[i] = -1e300, 1e300",
           "out[i], distance[i] = 0.0, 0.0", "unsolved members fit perfectly", LIKELIHOOD),
    Mutant("diagnosis/likelihood.py", "(1.0 if i == j else shared)", "shared",
           "model error too small", LIKELIHOOD),
    Mutant("catalogue/priors.py", "odds[name] *= factor(fault)", "odds[name] += 0.0",
           "complaint and history ignored", PRIORS),
    Mutant("catalogue/priors.py", "weight / whole for name", "weight for name",
           "odds that do not sum to one", PRIORS),
    Mutant("catalogue/priors.py", "yield lambda fault: fault.factors.topped_up",
           "yield lambda fault: 1.0", "topping up says nothing", PRIORS),
    # orchestration
    Mutant("web/work_queue.py", "other[0] == name and other[1] != content", "False",
           "work nobody wants any more goes on", QUEUE),
    Mutant("web/work_queue.py", "if len(self._line) > self._most:", "if False:",
           "requests without end", QUEUE),
    Mutant("web/work_queue.py", "self._line.remove(mine)", "pass",
           "the line never moves on", QUEUE),
    Mutant("web/odds_store.py", "(digest(job), self._mark())", '(digest(job), "")',
           "odds of before an outcome was told", STORE),
    Mutant("web/shelf.py", "if _NAME.fullmatch(name):", "if True:",
           "names leave the folder", SHELF),
    Mutant("web/shelf.py", "if name not in own]", "if True]", "an edited job twice", SHELF),
    Mutant("web/shelf.py", "while name in taken:", "while False:", "a new job over an old", SHELF),
    Mutant("web/guard.py", "not _same(origin, headers)", "False",
           "another site's page changes jobs", GUARD),
    Mutant("web/guard.py", '!= "navigate" or _computes(scope)', '!= "navigate"',
           "another site's link starts work", GUARD),
    Mutant("web/guard.py", "return name in self._names", "return True",
           "any name answered", GUARD),
    Mutant("cli/boundary.py", "returned = INTERRUPTED", "returned = DONE",
           "an interrupt looks like success", BOUNDARY),
    Mutant("cli/boundary.py", "return UNFORESEEN", "return DONE",
           "our error looks like success", BOUNDARY),
    Mutant("cli/as_json.py", "if math.isfinite(value) else None", "if True else None",
           "JSON nobody can read", TEXT),
    Mutant("cli/text.py", "min(max(probability, 0.0), 1.0)", "1.0 - probability",
           "bars turned round", TEXT),
)  # fmt: skip
