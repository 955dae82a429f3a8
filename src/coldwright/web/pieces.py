"""Pieces that the contexts of several pages share: choices, fields, what went wrong."""

from __future__ import annotations

from dataclasses import dataclass


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
