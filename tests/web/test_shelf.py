"""Job files in a folder, invented ones beside them."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from coldwright.errors import BadInput
from coldwright.readings.jobfile import JobFile
from coldwright.readings.keys import SIGNS
from coldwright.web.deps import JobNotFound
from coldwright.web.shelf import FolderShelf
from tests.web.conftest import BAKERY, HALL, Shop

NAMES = ["", ".", "..", "../hall", "a/b", "a\\b", "hall.toml", "HALL", "hall\n", "-x", "x" * 65]


@pytest.mark.parametrize("name", NAMES)
def test_name_that_could_leave_the_folder_opens_nothing(shop: Shop, name: str) -> None:
    with pytest.raises(JobNotFound):
        shop.shelf.open(name)
    with pytest.raises(JobNotFound):
        shop.shelf.change(name, lambda file: file.add_sign("rust", True))


def test_edited_invented_job_becomes_an_own_one(shop: Shop) -> None:
    assert shop.shelf.is_invented("bakery")
    shop.shelf.change("bakery", lambda file: file.add_sign("rust", True))
    assert not shop.shelf.is_invented("bakery")
    assert (shop.demo / "bakery.toml").read_text(encoding="utf-8") == BAKERY
    assert [(row.name, row.invented) for row in shop.shelf.rows()] == [
        ("bakery", False),
        ("hall", True),
    ]


def test_edit_that_fails_keeps_nothing(shop: Shop) -> None:
    def edit(file: JobFile) -> None:
        file.add_sign("rust", True)
        file.add_reading("shell_temperature", "hot as hell")

    with pytest.raises(BadInput):
        shop.shelf.change("hall", edit)
    assert shop.shelf.is_invented("hall")
    assert not shop.own.exists()


def test_edits_at_once_lose_nothing(shop: Shop) -> None:
    def see(key: str) -> None:
        shop.shelf.change("bakery", lambda file: file.add_sign(key, True))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(see, SIGNS))
    assert {sign.key for sign in shop.shelf.open("bakery").job.signs} == set(SIGNS)


def test_new_jobs_at_once_get_names_of_their_own(shop: Shop) -> None:
    with ThreadPoolExecutor(8) as pool:
        names = list(pool.map(lambda _: shop.shelf.create("Bar", BAKERY), range(12)))
    assert len(set(names)) == 12


@pytest.mark.parametrize("title", ["", "   ", "冷蔵庫", "../../etc", "A" * 200, "Ünder the stairs"])
def test_any_title_gets_a_name_that_opens_again(shop: Shop, title: str) -> None:
    name = shop.shelf.create(title, BAKERY)
    assert shop.shelf.open(name).text == BAKERY
    assert [path.parent for path in shop.own.iterdir()] == [shop.own]


def test_own_job_is_changed_where_it_stands_and_keeps_its_comments(shop: Shop) -> None:
    name = shop.shelf.create("Copy", HALL)
    shop.shelf.change(name, lambda file: file.remove_reading("appliance_power"))
    text = shop.kept(name)
    assert text.startswith("# invented\n")
    assert "appliance_power" not in text


def test_unusable_file_has_a_row_that_says_why(shop: Shop) -> None:
    (shop.demo / "odd.toml").write_bytes(b"\xff\xfe\x00")
    row = next(row for row in shop.shelf.rows() if row.name == "odd")
    assert row.job is None
    assert "odd.toml: read bytes that are no UTF-8 text" in row.fault


def test_files_that_are_no_jobs_are_passed_over(shop: Shop) -> None:
    (shop.demo / "notes.txt").write_text("x")
    (shop.demo / ".hall.toml.swp").write_text("x")
    (shop.demo / "folder.toml").mkdir()
    assert [row.name for row in shop.shelf.rows()] == ["bakery", "hall"]


def test_missing_folders_are_an_empty_shelf(tmp_path: Path) -> None:
    assert FolderShelf(tmp_path / "a", tmp_path / "b").rows() == ()


def test_folder_that_cannot_be_made_is_said(shop: Shop) -> None:
    shop.own.write_text("a file where the folder should be")
    with pytest.raises(BadInput, match="a folder that can be written"):
        shop.shelf.create("x", BAKERY)
