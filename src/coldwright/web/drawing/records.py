"""What a drawing consists of. Lengths are drawing units, one CSS pixel wide on a phone."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle, y downward."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The larger x."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """The larger y."""
        return self.y + self.height

    @property
    def middle(self) -> tuple[float, float]:
        """Centre of the box."""
        return self.x + self.width / 2, self.y + self.height / 2


@dataclass(frozen=True, slots=True)
class Shape:
    """One SVG path; `css` names what it depicts, the style sheet decides how it looks."""

    css: str
    path: str


@dataclass(frozen=True, slots=True)
class Label:
    """A word in the drawing. `anchor` is SVG's text-anchor."""

    x: float
    y: float
    text: str
    anchor: str


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a reading is taken: a point on the appliance and the tag that opens its entry."""

    key: str
    name: str
    spoken: str
    value: str  # as entered, empty where it was not taken
    spot_x: float
    spot_y: float
    tag: Box
    leader: str  # path from the tag to the spot


@dataclass(frozen=True, slots=True)
class Drawing:
    """job/_drawing.html"""

    top: float  # y where it begins
    width: float
    height: float
    title: str
    caption: str
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    pins: tuple[Pin, ...]
    order_of_flow: tuple[str, ...]
