"""A log's course in words, in the reader's units."""

from __future__ import annotations

import math

from coldwright.logged.window_words import window_words
from coldwright.readings.course import Course
from coldwright.readings.keys import READINGS, SIGNS
from coldwright.units import Dimension as D
from coldwright.units import System, show

_FROST_K = 1.5  # the freezer colder after a defrost by so much: frost was part of the matter, ours
_EVEN_K_H = 0.2  # a freezer that moves less stands still, ours


def course_lines(course: Course, system: System | str = System.SI) -> tuple[str, ...]:
    """Sentences on what a log shows and what was taken from it.

    Parameters
    ----------
    course : Course
        From a log.
    system : System or str
        Units for reading.

    Returns
    -------
    tuple of str
        Sentences.
    """
    span = show(course.end_s - course.start_s, D.TIME, system, digits=2)
    lines = [f"{course.lines} lines over {span}."]
    lines += [_compressor(course), *_readings(course, system), *_defrosts(course, system)]
    if math.isfinite(course.freezer_k_h) and not course.settled:
        lines.append(_freezer(course, system))
    lines += [f"The log shows: {SIGNS[key].label}." for key, seen in course.signs if seen]
    if course.passed_over:
        names = ", ".join(READINGS[key].label for key in course.passed_over)
        lines.append(f"Entered by hand, so not taken from the log: {names}.")
    return tuple(line for line in lines if line)


def _compressor(course: Course) -> str:
    if not course.sensed_by:
        return "Nothing in it tells when the compressor ran: neither power nor the shell."
    label = READINGS[course.sensed_by].label
    if not any(s.state == "running" for s in course.stretches):
        return f"By the {label} the compressor never ran."
    text = (
        f"By the {label}: {course.cycles} whole cycles, {course.starts_per_hour:.1f} starts an hour"
    )
    if course.short_runs:
        text += f"; {course.short_runs} runs under 3 min: ended by its overload or a board"
    if course.settled:
        text += "; it cycles without drift, taken as settled"
    elif course.settled is False:
        text += "; its cycles drift, not taken as settled"
    window = "steady" if course.steady else f"not steady ({course.why_not}), so held to less"
    since = ""
    if math.isfinite(course.running_s):
        since = f", {show(course.running_s, D.TIME, digits=2)} after its start"
    return f"{text}. The stretch read from is {window}{since}."


def _readings(course: Course, system: System | str) -> list[str]:
    lines = []
    for r in course.readings:
        if r.key in course.passed_over:
            continue
        known = READINGS[r.key]
        dimension = known.dimension
        spread = D.TEMPERATURE_DIFFERENCE if dimension is D.TEMPERATURE else dimension
        doubt = show(r.sd, spread, system, digits=1)
        if dimension is D.TEMPERATURE and r.sd < 0.1:
            doubt = show(0.1, spread, system)
        lines.append(
            f"{known.label[:1].upper()}{known.label[1:]}: {show(r.value, dimension, system)} give"
            f" or take {doubt} ({window_words(course, r)})."
        )
    return lines


def _defrosts(course: Course, system: System | str) -> list[str]:
    if not course.defrosts:
        return []
    count = len(course.defrosts)
    minutes = sum(d.end_s - d.start_s for d in course.defrosts) / count / 60.0
    text = f"{count} defrost{'s' if count > 1 else ''} of {minutes:.0f} min on average"
    if count > 1:
        gap = (course.defrosts[-1].start_s - course.defrosts[0].start_s) / (count - 1)
        text += f", {show(gap, D.TIME, system, digits=2)} apart"
    lines = [text + "."]
    falls = [d.freezer_before_k - d.freezer_after_k for d in course.defrosts]
    known = [fall for fall in falls if math.isfinite(fall)]
    if known and max(known) >= _FROST_K:
        colder = show(max(known), D.TEMPERATURE_DIFFERENCE, system)
        lines.append(
            f"After a defrost the freezer was {colder} colder than before it: frost on the coil is"
            " part of the matter."
        )
    return lines


def _freezer(course: Course, system: System | str) -> str:
    slope = course.freezer_k_h
    if abs(slope) < _EVEN_K_H:
        return "The freezer stood still in the last hour."
    way = "fell" if slope < 0.0 else "rose"
    return f"The freezer {way} by {show(abs(slope), D.TEMPERATURE_DIFFERENCE, system)} in an hour."
