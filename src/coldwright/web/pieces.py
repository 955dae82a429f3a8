"""Pieces that the contexts of several pages share: choices, fields, what went wrong."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.words.report import Section


@dataclass(frozen=True, slots=True)
class Choice:
    """One word that can be picked."""

    value: str
    label: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class ChoiceGroup:
    """Choices under a heading."""

    title: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a form. Without choices it takes text; `error` says why it was not kept."""

    name: str
    label: str
    value: str
    hint: str
    error: str
    choices: tuple[Choice, ...]
    many: bool = False  # any number of the choices


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """Fields under a heading."""

    title: str
    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class ErrorPage:
    """templates/error.html"""

    title: str
    message: str


@dataclass(frozen=True, slots=True)
class ReportPage:
    """templates/report.html: a report alone, `more` the words of a way further."""

    name: str
    title: str
    lead: str
    job_url: str
    sections: tuple[Section, ...]
    more: str = ""
    more_url: str = ""
