"""Three pins nobody has named: pins/pins.html. Named when asked, entered when told to."""

from __future__ import annotations

import math
from collections.abc import Mapping

from fastapi import APIRouter
from starlette.responses import Response

from coldwright.diagnosis.windings_answer import WindingsAnswer
from coldwright.electrical.pins import PAIRS, Pins
from coldwright.errors import BadInput, Refused
from coldwright.readings.job import Job
from coldwright.readings.jobfile import JobFile
from coldwright.readings.keys import READINGS
from coldwright.units import Dimension as D
from coldwright.units import parse, show
from coldwright.usecases.windings import pins_of
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.pins.context import Naming, OhmField, PinsPage
from coldwright.web.shelf import named
from coldwright.web.site import RawForm, Site, back_to, since_now
from coldwright.words.cautions import at_reading
from coldwright.words.windings import findings, naming
from coldwright.words.wording import capital

NOT_READ = "?"
FIELDS = tuple(f"between_{a}_{b}" for a, b in PAIRS)
_KEYS = ("winding_resistance_run", "winding_resistance_start", "winding_resistance_run_to_start")
Ohms = tuple[float | None, float | None, float | None]


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/pins, and POST of the three resistances by their names.

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

    @routes.get("/jobs/{name}/pins")
    def pins(
        name: str, between_1_2: str = "", between_1_3: str = "", between_2_3: str = ""
    ) -> Response:
        job = named(site.shelf.open(name).job, name)
        typed = dict(zip(FIELDS, (between_1_2, between_1_3, between_2_3), strict=True))
        answer, errors, error = None, dict.fromkeys(FIELDS, ""), ""
        if any(typed.values()):
            ohms, errors = _read(typed)
            if not any(errors.values()):
                try:
                    answer = pins_of(job, ohms)
                except Refused as refused:
                    error = f"{capital(refused.reason)}: {'; '.join(refused.still_possible)}."
        shown = _page(job, name, typed, errors, error, answer)
        return render.pins_page(shown, 422 if error or any(errors.values()) else 200)

    @routes.post("/jobs/{name}/pins")
    def enter(name: str, raw: RawForm) -> Response:
        before = site.shelf.open(name)
        site.shelf.change(name, lambda file: _enter(file, raw))
        return back_to(name, "part-electrical", since_now(before, name))

    return routes


def _enter(file: JobFile, raw: Mapping[str, str]) -> None:
    for key in _KEYS:
        if raw.get(key, "").strip():
            file.add_reading(key, raw[key].strip(), note="pins named by their three resistances")


def _read(typed: Mapping[str, str]) -> tuple[Ohms, dict[str, str]]:
    values: list[float | None] = []
    errors = dict.fromkeys(FIELDS, "")
    known = READINGS[_KEYS[0]]
    for name in FIELDS:
        text = typed[name].strip()
        value = None
        if text not in ("", NOT_READ):
            try:
                value = parse(text, D.RESISTANCE, file="form", key=name)
                if not known.low <= value <= known.high:
                    limits = [show(v, D.RESISTANCE) for v in (known.low, known.high)]
                    raise BadInput("form", name, text, " to ".join(limits))
            except BadInput as wrong:
                errors[name] = f"Read {wrong.read}; accepted: {wrong.accepted}"
                value = None
        values.append(value)
    return (values[0], values[1], values[2]), errors


def _page(
    job: Job,
    name: str,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    error: str,
    answer: WindingsAnswer | None,
) -> PinsPage:
    return PinsPage(
        url=job_url(name),
        title=job.title or name,
        cautions=at_reading("winding_resistance_run", False, job.plate.refrigerant),
        fields=tuple(
            OhmField(field, f"Pin {a} to pin {b}", typed[field], errors[field])
            for field, (a, b) in zip(FIELDS, PAIRS, strict=True)
        ),
        error=error,
        namings=() if answer is None else tuple(
            _naming(pins, len(answer.namings) > 1) for pins in answer.namings
        ),
        findings=() if answer is None else findings(answer),
        notes=() if answer is None else answer.notes,
    )  # fmt: skip


def _naming(pins: Pins, several: bool) -> Naming:
    title, facts = naming(pins, several)
    if not pins.common:
        return Naming(title, facts, ())
    ohms = (pins.run_ohm, pins.start_ohm, pins.run_to_start_ohm)
    entries = tuple(
        (key, "open" if math.isinf(ohm) else f"{ohm:.6g} ohm")
        for key, ohm, part in zip(_KEYS, ohms, ("run", "start", "run_to_start"), strict=True)
        if not math.isnan(ohm) and pins.computed != part
    )
    return Naming(title, facts, entries)
