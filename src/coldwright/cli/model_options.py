"""Options of `coldwright simulate` that choose one object for another."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, TypeVar

from coldwright.circuit.records import CapillaryKind, CompressorKind, FlashKind, VoidKind
from coldwright.cli.options import choice

if TYPE_CHECKING:
    from coldwright.cycle.model_choice import ModelChoice

Kind = TypeVar("Kind", bound=IntEnum)
FITTED = "fitted"


def chosen_models(
    compressor: str | None, capillary: str | None, flashing: str | None, void: str | None
) -> ModelChoice | None:
    """The objects that the options name; None where there are none.

    Parameters
    ----------
    compressor : str or None
        Name of the compressor model.
    capillary : str or None
        Name of the capillary model.
    flashing : str or None
        Name of the flashing model.
    void : str or None
        Name of the void-fraction model.

    Returns
    -------
    ModelChoice or None
        The choice, or None.

    Raises
    ------
    BadInput
        If a name is none of those accepted.
    """
    if compressor is capillary is flashing is void is None:
        return None
    from coldwright.cycle.model_choice import ModelChoice

    named = None
    if compressor is not None:
        words = [*(kind.name.lower() for kind in CompressorKind), FITTED]
        named = choice("--compressor", compressor, words)
    return ModelChoice(
        compressor=None if named in (None, FITTED) else CompressorKind[str(named).upper()],
        fitted=named == FITTED,
        capillary=_kind("--capillary", capillary, CapillaryKind),
        flashing=_kind("--flashing", flashing, FlashKind),
        void_fraction=_kind("--void", void, VoidKind),
    )


def _kind(option: str, text: str | None, kinds: type[Kind]) -> Kind | None:
    if text is None:
        return None
    return kinds[choice(option, text, [kind.name.lower() for kind in kinds]).upper()]
