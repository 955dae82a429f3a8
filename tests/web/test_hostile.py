"""Foreign pages, stale forms, marks before the text, and errors nobody foresaw."""

from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.guard import ANY_ADDRESS, own_names


def _revision(page: str) -> str:
    return page.partition('name="revision" value="')[2].partition('"')[0]


def test_a_stale_form_does_not_put_a_saved_charge_back(client, shop):
    stale = _revision(client.get("/jobs/hall").text)
    form = {"plate.kind": "top_mount", "plate.refrigerant": "R134a"}
    new = client.post("/jobs/hall/details", data={**form, "plate.charge": "95 g"})
    assert new.status_code == 303
    old = {**form, "plate.charge": "140 g", "room.temperature": "30 °C", "revision": stale}
    refused = client.post("/jobs/hall/details", data=old)
    assert refused.status_code == 422
    assert "Kept meanwhile: 95 g" in refused.text
    kept = load_job(shop.own / "hall.toml")
    assert kept.plate.charge_kg == 0.095
    again = client.post("/jobs/hall/details", data={**old, "revision": _revision(refused.text)})
    assert again.status_code == 303
    assert load_job(shop.own / "hall.toml").plate.charge_kg == 0.140


def test_a_reading_added_meanwhile_does_not_make_the_form_stale(client, shop):
    revision = _revision(client.get("/jobs/hall").text)
    client.post("/jobs/hall/readings", data={"key": "shell_temperature", "value": "60 °C"})
    form = {"plate.kind": "top_mount", "plate.charge": "95 g", "revision": revision}
    assert client.post("/jobs/hall/details", data=form).status_code == 303
    assert load_job(shop.own / "hall.toml").reading("shell_temperature") is not None


def test_a_byte_order_mark_is_no_error(client, shop):
    text = (shop.demo / "hall.toml").read_text(encoding="utf-8")
    shop.own.mkdir()
    outcome = '\n[outcome]\nfound = "undercharge"\nproven_by = "opened"\n'
    (shop.own / "hall.toml").write_text("\ufeff" + text + outcome, encoding="utf-8")
    for url in ("/", "/jobs/hall", "/jobs/hall?reading=appliance_power"):
        assert client.get(url).status_code == 200
    assert client.post("/jobs/hall/details", data={"plate.charge": "95 g"}).status_code == 303
    assert shop.kept("hall").startswith("\ufeff")


def test_an_error_nobody_foresaw_is_a_sentence_and_a_report(shop, monkeypatch):
    shop.own.mkdir()
    caller = TestClient(create_app(Deps(shop.diagnose, shop.shelf, reports=shop.own)))

    def broken():
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr(shop.shelf, "rows", broken)
    answer = caller.get("/")
    assert answer.status_code == 500
    assert "Traceback" not in answer.text
    assert "ZeroDivisionError: by nothing" in answer.text
    (report,) = shop.own.glob("coldwright-report-*.txt")
    assert "Traceback" in report.read_text(encoding="utf-8")


def test_only_names_of_its_own_are_answered_on_a_network(shop):
    names = ("localhost", ANY_ADDRESS, *own_names())
    caller = TestClient(create_app(Deps(shop.diagnose, shop.shelf), hosts=names))
    mine = ("localhost:8700", "192.168.1.20:8700", "[::1]:8700", "[fe80::1]", own_names()[0])
    for host in mine:
        assert caller.get("/", headers={"host": host}).status_code == 200, host
    for host in ("evil.example", "evil.example:8700", "[evil", "", "127.0.0.1.evil.example"):
        assert caller.get("/", headers={"host": host}).status_code == 400, host


def test_this_machine_alone_answers_to_loopback_names(shop):
    caller = TestClient(create_app(Deps(shop.diagnose, shop.shelf), hosts=("localhost", "::1")))
    assert caller.get("/", headers={"host": "[::1]:8700"}).status_code == 200
    assert caller.get("/", headers={"host": "192.168.1.20:8700"}).status_code == 400


def test_a_foreign_page_starts_no_computation(client, shop):
    from_there = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}
    followed = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    for url in ("/jobs/hall/odds", "/jobs/hall?odds=now", "/jobs/hall/inside", "/jobs/hall"):
        assert client.get(url, headers=from_there).status_code == 403
    assert client.get("/jobs/hall?odds=now", headers=followed).status_code == 403
    assert client.get("/jobs/hall", headers=followed).status_code == 200
    assert client.post("/jobs/hall/details", headers=from_there).status_code == 403
    assert shop.diagnose.calls == 0
