"""Writing documents takes a while: it tells how far it has come, can be stopped, and then leaves no half document."""

import asyncio
from pathlib import Path

import pytest

from gardenkit import progress
from gardenkit.garden import Garden
from gardenkit.handover import bundle
from gardenkit.notebook import command
from gardenkit.notebook.pages.client import SHEET, ClientPage
from gardenkit.notebook.pages.sun import SunPage
from gardenkit.notebook.session import Session
from gardenkit.progress import StoppedError
from gardenkit.project import sunlight, wall_sun
from gardenkit.project.remembered import Remembered


def test_a_part_of_the_work_tells_its_share_of_the_whole() -> None:
    told: list[tuple[float, str]] = []
    progress.part(lambda share, words: told.append((share, words)), 0.4, 0.8)(0.5, "half")
    assert told == [(pytest.approx(0.6), "half")]


def test_a_stopped_client_copy_leaves_what_was_there(settled: Session) -> None:
    async def in_a_notebook(page: ClientPage) -> None:
        page.write()
        assert page.job.is_running
        assert not page.job.stop_button.disabled
        page.write_on_paper(SHEET)
        assert "not finished" in page.message.value
        page.job.stop()
        for _ in range(1000):
            await asyncio.sleep(0.02)
            if not page.job.is_running:
                break

    page = ClientPage(settled)
    page.target.write_text("yesterday's", encoding="utf-8")
    asyncio.run(in_a_notebook(page))
    assert "stopped as you asked: client_copy.html was not written" in page.message.value
    assert page.target.read_text(encoding="utf-8") == "yesterday's"
    assert page.failures == []
    assert page.written == {}


def test_a_bundle_tells_all_the_way_and_stopped_half_way_leaves_whole_documents(
    settled: Session, tmp_path: Path
) -> None:
    told: list[float] = []

    def stop_late(share: float, words: str) -> None:
        told.append(share)
        if "schedules" in words:
            raise StoppedError("stopped")

    with pytest.raises(StoppedError):
        bundle.write(Garden(settled.project, settled.folder), tmp_path / "documents", tell=stop_late)
    assert told == sorted(told)
    assert len(told) > 15
    assert told[-1] > 0.7
    left = {path.name for path in (tmp_path / "documents").iterdir()}
    assert {"client_copy.html", "plan.dxf"} <= left
    assert not left & {"schedules.xlsx", "schedules", "care.ics", bundle.READ_ME}
    assert not [name for name in left if name.endswith(".tmp")]


def test_ctrl_c_at_the_console_says_what_then_stands(
    few: Session, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def pressed(*_: object, tell: progress.Tell, **__: object) -> int:
        tell(0.25, "working out the sun ...")
        raise KeyboardInterrupt

    monkeypatch.setattr("gardenkit.handover.booklet.write", pressed)
    assert command.main(["render", str(few.folder), "--to", str(tmp_path / "copy.html")]) == 130
    said = capsys.readouterr().err
    assert " 25%  working out the sun ..." in said
    assert "stopped as you asked; nothing was written" in said


def test_the_sun_of_a_large_garden_is_worked_out_beside_the_page_and_can_be_stopped(
    settled: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sunlight, "LONG_WORK", 0)  # as if it were large
    monkeypatch.setattr(sunlight, "_MAPS", Remembered(8))
    monkeypatch.setattr(wall_sun, "_SUNS", Remembered(4))

    async def until_done(page: SunPage) -> None:
        for _ in range(1000):
            await asyncio.sleep(0.02)
            if not page.job.is_running:
                return

    async def in_a_notebook() -> SunPage:
        page = SunPage(settled)
        assert page.job.is_running
        assert "not worked out yet" in page.scene().title
        assert page.summary().endswith("not worked out yet")
        page.job.stop()
        await until_done(page)
        assert "stopped as you asked: the sun map was not worked out" in page.message.value
        assert not page.knows(None)
        page.looked()  # whatever is looked at next begins anew
        assert page.job.is_running
        await until_done(page)
        return page

    page = asyncio.run(in_a_notebook())
    assert page.failures == []
    assert page.knows(None)
    assert page.scene().title.startswith("Hours of sun a day")
    assert "growing season" in page.spot.words.value
    assert "not worked out" not in page.message.value
