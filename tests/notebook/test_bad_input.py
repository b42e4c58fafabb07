"""What a hurried hand, a full disk or a damaged file can bring: one sentence each, and the garden as it was."""

import errno
import html
import io
from pathlib import Path

import attrs
import pytest
from PIL import Image

from gardenkit import storage
from gardenkit.brief import pictures
from gardenkit.brief.brief import Brief
from gardenkit.findings import GardenError
from gardenkit.notebook import command, gardens
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages.climate import ClimatePage
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.pages.style import StylePage
from gardenkit.notebook.pages.wants import WantsPage
from gardenkit.notebook.session import Session
from gardenkit.planting.planting import Planting
from gardenkit.project import Project
from gardenkit.schedules.cost import material_prices
from gardenkit.site.site import Fence
from gardenkit.storage.history import History
from gardenkit.structure.structure import Bed, Structure, Support, Thing


def said(page: Page) -> str:
    return html.unescape(page.message.value)


@pytest.mark.parametrize("typed", ["a_file", "a_file/within", "no\x00name", "x" * 300])
def test_a_folder_that_cannot_be_made_is_named_and_the_old_garden_stays(
    garden: Session, tmp_path: Path, typed: str
) -> None:
    page, before = StartPage(garden), garden.folder
    (tmp_path / "home").mkdir(exist_ok=True)
    (tmp_path / "home" / "a_file").write_text("", encoding="utf-8")
    page.folder.bar.value = typed
    page.begin()
    assert 'role="alert"' in said(page)
    assert "gardenkit made a mistake" not in said(page)
    assert garden.folder == before
    assert page.failures == []


def test_an_example_that_cannot_be_copied_is_said_on_the_page(
    garden: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, before = StartPage(garden), garden.folder
    (tmp_path / "a_file").write_text("", encoding="utf-8")
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "a_file"))
    page.copy_example(gardens.examples()[0])
    assert "a_file" in said(page)
    assert garden.folder == before
    assert page.failures == []


def test_a_full_disk_is_said_and_the_garden_stays(garden: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    page, before = StartPage(garden), garden.project

    def full(_: History, step: object, changes: object, state: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", "history.sqlite")

    monkeypatch.setattr(History, "add", full)
    page.name.bar.value = "another name"
    assert "history.sqlite" in said(page)
    assert "no space left on device" in said(page)
    assert page.name.bar.value == before.name
    assert storage.load(garden.folder).project == before
    assert page.failures == []


def test_half_a_character_is_refused(garden: Session) -> None:
    page, before = StartPage(garden), garden.project
    page.name.bar.value = "garden \ud800"
    assert "a sign that cannot be shown (U+D800" in said(page)
    assert storage.load(garden.folder).project == before
    assert page.failures == []


def test_of_something_very_long_only_the_beginning_is_said_again(garden: Session) -> None:
    page = WantsPage(garden)
    page.list.form.fill(text="many", fact="species", amount="a" * 5000)
    page.list.add()
    assert 'cannot read "aaa' in said(page)
    assert 'aaa ..." as an amount' in said(page)
    assert len(said(page)) < 400


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "damaged at line 1"),
        (b"[" * 100_000, "is damaged"),
        (b'{"format":' + b"9" * 5000 + b"}", "is damaged"),
        (b"\xff\xfe\x00", "is not saved as UTF-8 text"),
        (b'{"format": true, "name": "x"}', "names no format number"),
        (b'{"format": 1, "at": -5, "name": "x"}', '"at" must be a whole number'),
        (b'{"format": 1, "name": "x", "site": {"y_bearing": NaN}}', "damaged at site.y_bearing"),
        (b'{"format": 1, "name": "x", "site": {"boundary": [[0,0],[9,9],[9,0],[0,9]]}}', "crosses or touches itself"),
    ],
)
def test_a_damaged_project_file_is_one_sentence_on_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes, words: str
) -> None:
    (tmp_path / "garden.json").write_bytes(content)
    assert command.main(["render", str(tmp_path)]) == 1
    told = capsys.readouterr().err
    assert words in told
    assert "gardenkit recover" in told
    assert told.count("\n") == 1
    assert (tmp_path / "garden.json").read_bytes() == content


def test_a_project_file_saved_by_a_windows_editor_is_read(tmp_path: Path) -> None:
    storage.create(tmp_path, Project(name="plot"))
    path = tmp_path / "garden.json"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert storage.load(tmp_path).project.name == "plot"


@pytest.mark.parametrize(
    "arguments",
    [
        ["new", "a_file"],
        ["new", "a_file/within"],
        ["new", "x" * 300],
        ["examples", "--copy", "fennel_street_corner", "a_file"],
        ["render", "a_file"],
        ["render", "plot", "--to", "."],
        ["render", "plot", "--to", "a_file/copy.html"],
        ["open", "a_file", "--no-browser"],
        ["recover", "a_file"],
    ],
)
def test_a_file_where_a_folder_belongs_is_one_sentence_on_the_command_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a_file").write_text("", encoding="utf-8")
    storage.create(tmp_path / "plot", Project(name="plot"))
    assert command.main(arguments) == 1
    told = capsys.readouterr().err.rstrip("\n").split("\n")[-1]  # what was on its way is told before
    assert told.startswith("gardenkit: ")
    assert "Traceback" not in told


def test_what_cannot_be_drawn_is_refused_before_it_is_saved(garden: Session) -> None:
    spot, before = (3.0, 3.0), garden.project
    crossing = ((1.0, 1.0), (4.0, 4.0), (4.0, 1.0), (1.0, 4.0))
    flat = Structure(supports=(Support(name="arch", kind="arch", line=(spot, spot)),))
    knot = Structure(beds=(Bed(name="south", at=spot, outline=crossing),))
    fences = (Fence(name="back", line=(spot,)),)
    size = {"width": 2.0, "depth": 0.5, "height": 0.4}
    rows = Structure(things=(Thing(name="kitchen", kind="raised bed", at=spot, line=(spot, spot), **size),))
    for change, words in (
        (lambda p: attrs.evolve(p, structure=flat, planting=Planting(), brief=Brief()), 'support "arch" has no length'),
        (lambda p: attrs.evolve(p, structure=rows, planting=Planting(), brief=Brief()), 'bed "kitchen" has no length'),
        (lambda p: attrs.evolve(p, structure=knot, planting=Planting(), brief=Brief()), 'bed "south" crosses'),
        (lambda p: attrs.evolve(p, site=attrs.evolve(p.site, fences=fences)), 'fence "back" has no length'),
    ):
        with pytest.raises(GardenError, match=words):
            garden.edit("draw", change)
    assert storage.load(garden.folder).project == before


def test_a_page_whose_drawing_fails_still_shows_its_message(garden: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    page = StartPage(garden)

    def fail() -> None:
        raise GardenError("the drawing cannot be made; move the gate")

    monkeypatch.setattr(page, "scene", fail)
    bundle = page._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert "move the gate" in said(page)


def test_prices_in_another_encoding_are_named(tmp_path: Path) -> None:
    own = tmp_path / "material_prices.csv"
    own.write_bytes("item,each\ncafé,3\n".encode("latin-1"))
    with pytest.raises(GardenError, match="save it as CSV in UTF-8"):
        material_prices(own)


def test_a_whole_garden_is_not_rebuilt(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    storage.create(tmp_path, Project(name="plot"))
    storage.edit(tmp_path, "name", lambda p: attrs.evolve(p, name="other"))
    before = (tmp_path / "garden.json").read_bytes()
    assert command.main(["recover", str(tmp_path)]) == 1
    assert "is whole" in capsys.readouterr().err
    assert (tmp_path / "garden.json").read_bytes() == before


def test_a_picture_with_a_very_long_name_is_kept_under_a_shorter_one(garden: Session) -> None:
    page = StylePage(garden)
    buffer = io.BytesIO()
    Image.new("RGB", (6, 4), "#336633").save(buffer, "PNG")
    page.pinned.add([{"name": "x" * 300 + ".png", "content": buffer.getvalue()}])
    assert garden.project.brief.pictures[-1].file == "x" * 60 + ".jpg"
    assert page.failures == []


def test_pictures_that_cannot_be_kept_are_said_on_the_page(garden: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    page, before = StylePage(garden), garden.project

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", "pictures")

    monkeypatch.setattr(pictures, "add_picture", full)
    page.pinned.add([{"name": "wall.png", "content": b"any"}])
    assert "no space left on device" in said(page)
    assert garden.project == before


def test_colours_of_a_picture_that_is_gone_are_not_taken(garden: Session) -> None:
    page, before = StylePage(garden), garden.project
    page.pinned.palettes.clear()
    (garden.folder / "pictures" / "autumn_edge.jpg").unlink()
    page.palette.take_colours()
    assert "autumn_edge.jpg is not in" in said(page)
    assert garden.project == before
    assert page.failures == []


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("9999-12-31,1,2,3", 'the year of "9999-12-31" is outside'),
        ("2020-02-31,1,2,3", 'the date "2020-02-31" is not an ISO date'),
        ('"2020-02-01,1,2,3\n' + "x" * 200_000, "a quote that is not closed"),
    ],
)
def test_weather_that_cannot_be_is_named_on_the_page(garden: Session, row: str, words: str) -> None:
    page, before = ClimatePage(garden), garden.project
    page.daily.take_file([{"name": "days.csv", "content": f"date,tmin,tmax,rain\n{row}\n".encode()}])
    assert words in said(page)
    assert garden.project == before
    assert page.failures == []


def test_a_catalogue_with_a_quote_left_open_is_named(garden: Session) -> None:
    (garden.folder / "plants.csv").write_text('botanical\n"' + "x" * 200_000, encoding="utf-8")
    page = StartPage(garden)
    assert "plants.csv is no table that can be read" in said(page)
    assert page.failures == []
