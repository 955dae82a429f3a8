"""What a check is worth, in sentences that command line and pages share. No money is converted."""

from __future__ import annotations

from coldwright.diagnosis.result import Decision, NextCheck

LEAST_TURNS = 0.005
_TELLS = ((0.3, "much"), (0.1, "some"), (0.0, "little"))  # from so many bit on, ours


def value_words(check: NextCheck, decision: Decision | None) -> str:
    """What a check tells and, where prices are known, what it saves.

    Parameters
    ----------
    check : NextCheck
        With its value.
    decision : Decision or None
        The choice as it stands.

    Returns
    -------
    str
        One sentence or two.
    """
    bits = check.information_bits
    much = next(word for least, word in _TELLS if bits >= least)
    tells = f"Tells {much} ({bits:.2f} bit)"
    v = check.value
    if v is None or decision is None:
        return f"{tells}."

    def money(value: float) -> str:
        return f"{value:.0f} {decision.currency}".rstrip()

    costs = f"its minutes cost {money(v.minutes_cost)}"
    if check.opens_circuit:
        costs += (
            f", the risk {money(v.risk)} ({money(decision.opening_risk)} where the circuit is "
            f"sound, which is {100.0 * decision.sound_probability:.0f} % likely)"
        )
    turns = ""
    if v.turns > LEAST_TURNS and v.turns_to:
        turns = f"; in {100.0 * v.turns:.0f} of 100 the best is then: {_low(v.turns_to)}"
    if v.net > 0.0:
        return f"{tells}. Pays: saves about {money(v.gross)}, {costs}{turns}."
    return f"{tells}. Does not pay: saves about {money(v.gross)}, {costs}{turns}."


def decision_words(decision: Decision | None) -> str:
    """The choice as it stands, and whether checking further pays; empty without prices.

    Parameters
    ----------
    decision : Decision or None
        The choice.

    Returns
    -------
    str
        A sentence or two; empty where there is no decision.
    """
    if decision is None:
        return ""
    pays = (
        "A check pays where it may turn that"
        if decision.any_check_pays
        else "No further check pays for its minutes: none is likely to turn that"
    )
    return (
        f"By the prices given the best is now: {_low(decision.title)}; next: "
        f"{_low(decision.second_title)}. {pays}."
    )


def _low(title: str) -> str:
    return title[:1].lower() + title[1:]
