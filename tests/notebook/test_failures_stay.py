"""A failure on a page stays in sight until it is dismissed, says what was saved, and is logged with the garden."""

import html
import os
from pathlib import Path

import attrs
import pytest

from gardenkit.notebook import failure_log
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.pages.survey import SurveyPage
from gardenkit.notebook.session import Session


def fail() -> None:
    raise ZeroDivisionError("a mistake of ours")


def test_a_failure_stays_until_it_is_dismissed(garden: Session) -> None:
    page = StartPage(garden)
    assert not page.attempt(fail)
    for later in (lambda: page.message.say(""), lambda: page.message.say("saved"), page.refresh, page.undo):
        later()
        assert "a mistake of ours" in page.message.value
    page.edit("rename", lambda p: attrs.evolve(p, name="another"))
    assert "a mistake of ours" in page.message.value
    assert page.message.dismiss_button.layout.display == ""
    page.message.dismiss_button.click()
    assert "mistake" not in page.message.value
    assert page.message.dismiss_button.layout.display == "none"


def test_a_failure_says_whether_anything_was_saved(garden: Session) -> None:
    page = StartPage(garden)
    page.attempt(fail)
    assert "Nothing of this was saved" in page.message.value
    page.message.dismiss()

    def save_then_fail() -> None:
        garden.edit("rename", lambda p: attrs.evolve(p, name="another"))
        fail()

    page.attempt(save_then_fail)
    assert "The change to the garden was saved" in page.message.value
    assert garden.project.name == "another"


def test_a_failure_is_logged_in_the_garden_folder(garden: Session) -> None:
    page = StartPage(garden)
    page.attempt(fail)
    log = (garden.folder / failure_log.LOG_FILE).read_text(encoding="utf-8")
    assert "StartPage: gardenkit made a mistake here (ZeroDivisionError: a mistake of ours)" in log
    assert "def fail" in log or "in fail" in log


def test_the_log_never_grows_past_its_limit(garden: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(failure_log, "LARGEST", 4000)
    for _ in range(40):
        failure_log.add(garden.folder, "page", "x" * 100, ValueError("x"))
    assert (garden.folder / failure_log.LOG_FILE).stat().st_size < 5000


def test_a_full_disk_stays_said(garden: Session) -> None:
    page = StartPage(garden)

    def full() -> None:
        raise OSError(28, "No space left on device", "garden.json")

    page.attempt(full)
    page.message.say("")
    said = html.unescape(page.message.value)
    assert '"garden.json" cannot be used (no space left on device)' in said
    assert "Nothing of this was saved" in said


def test_a_save_that_the_disk_refuses_stays_said_and_is_logged(
    garden: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = StartPage(garden)
    name = garden.project.name

    def full(_: int) -> None:
        raise OSError(28, "No space left on device", "garden.json")

    with monkeypatch.context() as disk:
        disk.setattr(os, "fsync", full)
        assert not page.edit("rename", lambda p: attrs.evolve(p, name="another"))
    page.message.say("")
    assert page.edit("client", lambda p: attrs.evolve(p, client="a client"))
    said = html.unescape(page.message.value)
    assert "no space left on device" in said and "Nothing of this was saved" in said
    assert "StartPage" in (garden.folder / failure_log.LOG_FILE).read_text(encoding="utf-8")
    assert (garden.project.name, garden.project.client) == (name, "a client")


def test_a_garden_whose_folder_is_gone_says_so_and_makes_none(garden: Session, tmp_path: Path) -> None:
    page = StartPage(garden)
    garden.folder.rename(tmp_path / "elsewhere")
    assert not page.edit("rename", lambda p: attrs.evolve(p, name="another"))
    assert "there is no folder" in html.unescape(page.message.value)
    assert not garden.folder.exists()


def test_a_survey_that_is_refused_is_neither_called_worked_out_nor_taken_away(empty: Session) -> None:
    page = SurveyPage(empty)
    measures = "station\tA\t\t\t0\t0\nstation\tB\t\t\t10\t0\ntie\tA\tC\t\t10\ntie\tB\tC\t\t10\n"
    table = f"kind\tfrom\tto\tpoint\tvalue\tsecond\tprecision\n{measures}side\tA\tB\tC\tleft\n"
    page.table.value = typed = f"{table}declination\t\t\t\t400\n"
    page.apply()
    assert "declination of the survey is 400" in page.message.value and "worked out" not in page.message.value
    assert page.table.value == typed and empty.project.site.survey.measures == ()
    page.table.value = table
    page.apply()
    assert "2 measures worked out" in page.message.value and len(empty.project.site.survey.measures) == 2


def test_what_was_typed_wrongly_goes_when_it_is_put_right(garden: Session) -> None:
    page = StartPage(garden)
    page.message.problem("a word")
    page.message.say("")
    assert page.message.value == ""
