"""The pages in headless Chromium: phone and desk, with and without script."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, ConsoleMessage, Page, expect

from coldwright.readings.jobfile import load_job
from tests.web.conftest import Shop

PHONE, DESK = (390, 844), (1280, 900)
# WCAG 2.2 (2023): 2.5.5 target size 44 CSS pixels; A and AA rules as axe names them.
LEAST_TARGET = 44.0
LEAST_FONT = 16.0
_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
RULES = {"runOnly": {"type": "tag", "values": _TAGS}}
VIEWS = [
    pytest.param((PHONE, True, "light"), id="phone-script-light"),
    pytest.param((PHONE, False, "dark"), id="phone-plain-dark"),
    pytest.param((DESK, True, "dark"), id="desk-script-dark"),
    pytest.param((DESK, False, "light"), id="desk-plain-light"),
]


@pytest.fixture(params=VIEWS)
def view(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    """A fresh page; the console must stay silent except for a refused form."""
    (width, height), script, scheme = request.param
    context = browser.new_context(
        viewport={"width": width, "height": height},
        java_script_enabled=script,
        color_scheme=scheme,
    )
    page = context.new_page()
    said: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type in ("error", "warning") and "422" not in message.text:
            said.append(message.text)

    page.on("console", heard)
    page.on("pageerror", lambda error: said.append(str(error)))
    yield page
    context.close()
    assert said == []


@pytest.fixture(params=[PHONE, DESK], ids=["phone", "desk"])
def scripted(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    """A page with script in both sizes."""
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height})
    yield context.new_page()
    context.close()


def show_odds(page: Page) -> None:
    """The odds are on the page, however this browser gets them."""
    # Counting does not wait: on the page before, no browser shows that it runs no script. The
    # first page of a process is drawn late where the machine is busy.
    expect(page.locator("#part-odds")).to_be_visible(timeout=30_000)
    ask = page.get_by_role("link", name="Work out the odds")
    if not _has_script(page):
        ask.click()
    expect(page.locator("ul.odds")).to_be_visible(timeout=30_000)


def _has_script(page: Page) -> bool:
    return page.locator("noscript p").count() == 0


def percent(page: Page, fault: str) -> str:
    """The percent at a fault's bar."""
    row = page.locator("ul.odds li", has=page.get_by_text(fault, exact=True))
    return row.locator(".percent").inner_text()


CAPILLARY = "Capillary partly blocked or crushed"


def test_open_a_job_add_a_reading_see_the_odds_move(view: Page, address: str, shop: Shop) -> None:
    view.goto(address)
    view.get_by_role("link", name=re.compile("Hall refrigerator")).click()
    show_odds(view)
    before = percent(view, CAPILLARY)
    view.get_by_label("What was read").select_option("condenser_outlet_temperature")
    view.get_by_label("Value with its unit").fill("22 C")
    view.get_by_role("button", name="Add this reading").click()
    expect(view.get_by_text(f"was {before}")).to_be_visible()
    assert percent(view, CAPILLARY) != before
    expect(view.locator("#part-readings")).to_contain_text("4 readings entered")
    expect(view.get_by_role("link", name="Condenser outlet: 22 C, change it")).to_be_visible()
    reading = load_job(shop.own / "hall.toml").reading("condenser_outlet_temperature")
    assert reading is not None
    assert reading.entered == "22 C"


def test_bad_input_says_why_and_keeps_the_text(view: Page, address: str, shop: Shop) -> None:
    view.goto(f"{address}/jobs/hall?reading=shell_temperature#add-reading")
    view.get_by_label("Value with its unit").fill("54 bar")
    view.get_by_role("button", name="Add this reading").click()
    field = view.get_by_label("Value with its unit")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_value("54 bar")
    expect(view.locator("#reading-value-error")).to_contain_text("Read '54 bar'")
    expect(view.get_by_label("What was read")).to_have_value("shell_temperature")
    assert not shop.own.exists()
    field.fill("54 °C")
    view.get_by_role("button", name="Add this reading").click()
    expect(view.locator("#part-readings")).to_contain_text("4 readings entered")


def test_tap_on_the_drawing_opens_the_entry(view: Page, address: str) -> None:
    view.goto(f"{address}/jobs/hall")
    view.get_by_role("link", name="Drier outlet: not taken, enter it").click()
    expect(view.get_by_label("What was read")).to_have_value("drier_outlet_temperature")
    expect(view.get_by_label("Value with its unit")).to_be_in_viewport()


def test_next_check_opens_its_entry(view: Page, address: str) -> None:
    view.goto(f"{address}/jobs/bakery")
    show_odds(view)
    view.get_by_role("link", name="Enter: Condenser outlet").click()
    expect(view.get_by_label("What was read")).to_have_value("condenser_outlet_temperature")
    expect(view.get_by_label("Value with its unit")).to_be_in_viewport()
    view.goto(f"{address}/jobs/bakery?odds=now")
    view.get_by_role("link", name="Enter: Frost only at the evaporator inlet").click()
    expect(view.locator("#sign-frost_only_at_inlet")).to_be_in_viewport()


def test_sign_and_removal_move_the_odds(view: Page, address: str, shop: Shop) -> None:
    view.goto(f"{address}/jobs/hall?sign=condenser_dusty#sign-condenser_dusty")
    show_odds(view)
    view.goto(f"{address}/jobs/hall?sign=condenser_dusty#sign-condenser_dusty")
    before = percent(view, "Condenser short of air")
    view.locator("#seen-condenser_dusty").click()
    expect(view.get_by_text(f"was {before}")).to_be_visible()
    assert percent(view, "Condenser short of air") != before
    view.get_by_role("button", name="Remove Power of the whole appliance").click()
    expect(view.locator("#part-readings")).to_contain_text("2 readings entered")
    assert load_job(shop.own / "hall.toml").reading("appliance_power") is None


def test_new_job_from_kind_and_refrigerant(view: Page, address: str, shop: Shop) -> None:
    view.goto(address)
    view.get_by_label("Kind of appliance").select_option("chest_freezer")
    view.get_by_label("Refrigerant on the plate").select_option("R600a")
    view.get_by_label("Name of the job").fill("Cellar chest")
    view.get_by_role("button", name="Start the job").click()
    expect(view.get_by_role("heading", name="Cellar chest")).to_be_visible()
    expect(view.get_by_text("R600a is flammable").first).to_be_visible()
    expect(view.get_by_text("seen from its front, cut open")).to_be_visible()
    assert load_job(shop.own / "cellar_chest.toml").plate.refrigerant == "R600a"


def test_plate_can_be_completed_later(view: Page, address: str, shop: Shop) -> None:
    view.goto(f"{address}/jobs/bakery")
    view.get_by_text("Plate, circuit and room").click()
    view.get_by_text("Add or change").click()
    view.get_by_label("Refrigerant charge", exact=True).fill("28 g")
    view.get_by_role("button", name="Keep these").click()
    expect(view.locator("#part-appliance")).to_contain_text("R600a, 28 g")
    assert load_job(shop.own / "bakery.toml").plate.charge_kg == pytest.approx(0.028)


def test_choosing_a_reading_shows_its_cautions_and_keeps_what_was_typed(
    scripted: Page, address: str
) -> None:
    scripted.goto(f"{address}/jobs/bakery")
    scripted.get_by_label("Value with its unit").fill("5 inHg vacuum")
    scripted.get_by_label("What was read").select_option("suction_pressure")
    form = scripted.locator("#add-reading")
    expect(form.get_by_text("Low side below atmosphere")).to_be_visible()
    expect(scripted.get_by_label("Value with its unit")).to_have_value("5 inHg vacuum")


def test_what_happened_is_told_where_the_eye_and_the_ear_are(scripted: Page, address: str) -> None:
    scripted.goto(f"{address}/jobs/hall")
    told = scripted.get_by_role("status")
    expect(told).to_contain_text("Undercharge: too little refrigerant")
    scripted.get_by_label("What was read").select_option("condenser_outlet_temperature")
    scripted.get_by_label("Value with its unit").fill("22 C")
    scripted.get_by_label("Value with its unit").press("Enter")
    expect(told).to_contain_text(f"{CAPILLARY}: up from")
    expect(told).to_be_in_viewport()


def test_lost_connection_is_said_and_the_text_stays(scripted: Page, address: str) -> None:
    scripted.goto(f"{address}/jobs/hall?reading=shell_temperature")
    expect(scripted.locator("ul.odds")).to_be_visible()
    scripted.route("**/readings", lambda route: route.abort())
    scripted.get_by_label("Value with its unit").fill("61 °C")
    scripted.get_by_role("button", name="Add this reading").click()
    expect(scripted.get_by_role("status")).to_contain_text("No connection. Nothing was kept")
    expect(scripted.get_by_label("Value with its unit")).to_have_value("61 °C")


def test_closed_part_stays_closed_when_the_odds_change(scripted: Page, address: str) -> None:
    scripted.goto(f"{address}/jobs/hall")
    reasons = scripted.locator("#part-reasons")
    expect(reasons.locator("li").first).to_be_visible()
    reasons.locator("summary").first.click()  # of the part; one inside opens every reading
    scripted.get_by_role("button", name="Remove Power of the whole appliance").click()
    expect(scripted.get_by_text("What moved")).to_be_visible()
    expect(scripted.locator("#part-reasons")).to_contain_text("2 readings weighed")
    expect(scripted.locator("#part-reasons li").first).to_be_hidden()


def test_all_is_reached_by_the_keyboard(browser: Browser, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{address}/jobs/hall?odds=now")
    reached: set[str] = set()
    count = page.locator("a, button, input:not([type=hidden]), select, summary").count()
    for _ in range(count + 5):
        page.keyboard.press("Tab")
        reached.add(
            page.evaluate(
                "(() => { const e = document.activeElement;"
                " return e.getAttribute('aria-label') || e.id || e.textContent.trim(); })()"
            )
        )
    for name in (
        "Skip to the job",
        "Drier outlet: not taken, enter it",
        "reading-key",
        "reading-value",
        "reading-keep",
        "Enter: Condenser outlet",
    ):
        assert name in reached
    page.get_by_role("link", name="Drier outlet: not taken, enter it").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("What was read")).to_have_value("drier_outlet_temperature")
    context.close()


STATES = [
    "/",
    "/jobs/hall?odds=now&reading=suction_pressure&sign=oil_trace",
    "/jobs/bakery",
    "/jobs/bakery?leak=now",
    "/jobs/nope",
]


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize(
    ("size", "scheme"), [(PHONE, "light"), (DESK, "dark")], ids=["phone-light", "desk-dark"]
)
def test_axe_finds_nothing(
    browser: Browser, address: str, size: tuple[int, int], scheme: Any, state: str
) -> None:
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme=scheme
    )
    page = context.new_page()
    page.goto(address + state)
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    if "jobs/bakery" in state:
        expect(page.locator("ul.odds")).to_be_visible()
    found = Axe().run(page, options=RULES)
    context.close()
    assert found.violations_count == 0, found.generate_report()


def test_axe_would_find_something(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<p style='color:#ccc;background:#fff'>faint</p><img src='x'>")
    found = Axe().run(page, options=RULES)
    page.close()
    assert {"color-contrast", "image-alt"} <= {rule["id"] for rule in found.response["violations"]}


@pytest.mark.parametrize("state", STATES)
def test_phone_page_fits_the_hand(browser: Browser, address: str, state: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.goto(address + state)
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    small = page.evaluate(
        """least => [...document.querySelectorAll(
            'a, button, select, summary, .choices label,' +
            'input:not([type=hidden], [type=checkbox])')]
          .filter(e => !e.classList.contains('skip') && !e.closest('p'))
          .map(e => [e.getBoundingClientRect(), e.textContent.trim() || e.id])
          .filter(([r]) => r.width && Math.min(r.width, r.height) < least)
          .map(([r, name]) => `${name}: ${r.width} x ${r.height}`)""",
        LEAST_TARGET,
    )
    assert small == []
    fonts = page.evaluate(
        """() => [...new Set([...document.querySelectorAll('body *')]
          .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
          .map(e => parseFloat(getComputedStyle(e).fontSize)))]"""
    )
    assert min(fonts) >= LEAST_FONT
    context.close()


def test_names_fit_their_tags(browser: Browser, address: str) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    for kind in ("top_mount", "side_by_side", "chest_freezer"):
        page.goto(f"{address}/")
        page.get_by_text("New job").click() if kind != "top_mount" else None
        page.get_by_label("Kind of appliance").select_option(kind)
        page.get_by_role("button", name="Start the job").click()
        wide = page.evaluate(
            """() => [...document.querySelectorAll('a.tag')]
              .filter(a => a.querySelector('.name').getBBox().width
                > a.querySelector('rect').getBBox().width - 8)
              .map(a => a.textContent)"""
        )
        assert wide == []
    page.close()


def test_paper_shows_the_odds_and_no_buttons(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    page = browser.new_page(viewport=dict(zip(("width", "height"), DESK, strict=True)))
    page.goto(f"{address}/jobs/hall?odds=now")
    page.emulate_media(media="print")
    expect(page.get_by_text("Undercharge: too little refrigerant", exact=True)).to_be_visible()
    expect(page.locator("svg.drawing")).to_be_visible()
    expect(page.get_by_role("button", name="Add this reading")).to_be_hidden()
    expect(page.get_by_role("navigation", name="Parts of this job")).to_be_hidden()
    paper = page.pdf(path=tmp_path / "job.pdf", prefer_css_page_size=True)
    page.close()
    assert paper.startswith(b"%PDF")
