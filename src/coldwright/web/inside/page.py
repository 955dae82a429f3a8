"""Inside the circuit: the leading fault beside the sound appliance, drawn on its own request."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import Response

from coldwright.diagnosis.result import SeverityInterval
from coldwright.errors import ColdwrightError
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.inside.context import Beside, InsidePage
from coldwright.web.shelf import named
from coldwright.web.site import Site, by_htmx
from coldwright.words.wording import fault as in_words
from coldwright.words.wording import severity as in_words_how_bad

if TYPE_CHECKING:
    from coldwright.usecases.inside import Inside

# Words, field of the state, dimension
ROWS = (
    ("Low side", "suction_pressure_pa", D.PRESSURE),
    ("High side", "condensing_pressure_pa", D.PRESSURE),
    ("Evaporating", "evaporating_k", D.TEMPERATURE),
    ("Superheat", "superheat_k", D.TEMPERATURE_DIFFERENCE),
    ("Subcooling", "subcooling_k", D.TEMPERATURE_DIFFERENCE),
    ("Compressor", "compressor_power_w", D.POWER),
    ("Cooling", "cooling_w", D.POWER),
)


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/inside.

    Parameters
    ----------
    site : Site
        What all pages share.

    Returns
    -------
    APIRouter
        The routes.
    """
    routes = APIRouter()

    @routes.get("/jobs/{name}/inside")
    def inside(request: Request, name: str) -> Response:
        job = named(site.shelf.open(name).job, name)
        title, url = job.title or name, job_url(name)
        try:
            shown = _page(url, title, site.inside(job))
        except ColdwrightError as raised:
            shown = InsidePage(url, title, "", (), (), str(raised))
        if by_htmx(request):
            return render.inside_block(shown)
        return render.page(shown, 422 if shown.error else 200)

    return routes


def _page(url: str, title: str, found: Inside) -> InsidePage:
    from coldwright.usecases.inside import figures_inside

    words = in_words(found.faults)
    told = f"{words}, {100.0 * found.probability:.0f} % likely"
    if found.unit is not None and not math.isnan(found.severity):
        told += f"; here {_size(found.faults[0], found.severity, found.unit)}"
    if found.sound_leads:
        told += ". Nothing wrong is likelier still: this is the next"
    short = " and ".join(in_words(one).partition(":")[0] for one in found.faults)
    # Every word in them was escaped when they were drawn
    drawn = tuple(Markup(svg) for svg in figures_inside(found, title, short).values())
    rows = tuple(
        Beside(label, *(_shown(getattr(s, name), kind) for s in (found.state, found.sound)))
        for label, name, kind in ROWS
    )
    return InsidePage(url, title, f"{told}.", rows, drawn, "")


def _size(fault: str, severity: float, unit: str) -> str:
    if unit == "mol":
        return f"{severity:.2g} mol"
    one = SeverityInterval(severity, severity, severity, unit)
    return in_words_how_bad(fault, one)


def _shown(value: float, dimension: D) -> str:
    return "–" if math.isnan(value) else show(value, dimension, System.SI)
