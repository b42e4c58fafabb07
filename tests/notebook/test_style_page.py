"""The style page: pictures come in by parts, are told of and taken off; colours are kept and dropped; styles mix."""

import io
from pathlib import Path

import pytest
from PIL import Image

from gardenkit import storage
from gardenkit.brief.styles import STYLES
from gardenkit.notebook import gardens
from gardenkit.notebook.pages.style import StylePage
from gardenkit.notebook.pages.wall_photo import WallPhotoPage
from gardenkit.notebook.session import Session
from gardenkit.project import Project


@pytest.fixture
def page(tmp_path: Path) -> StylePage:
    storage.create(tmp_path / "garden", Project(name="plot"))
    return StylePage(Session(tmp_path / "garden"))


def encoded(kind: str, colour: str = "#755f98", *, exif: Image.Exif | None = None) -> bytes:
    held = io.BytesIO()
    more = {"exif": exif} if exif is not None else {}
    Image.new("RGB", (60, 40), colour).save(held, kind, **more)
    return held.getvalue()


def send(page: StylePage, *files: tuple[str, bytes], part: int = 100) -> None:
    """Send pictures as the browser does: in parts, the last of each and the end of all marked."""
    for number, (name, content) in enumerate(files):
        parts = [content[at : at + part] for at in range(0, len(content), part)] or [b""]
        for at, piece in enumerate(parts):
            last = at == len(parts) - 1
            told = {"kind": "part", "name": name, "last": last, "end": last and number == len(files) - 1}
            page.pinned.pin_up._heard(None, told, [memoryview(piece)])


def test_pictures_of_every_kind_come_in_by_parts(page: StylePage) -> None:
    import pillow_heif

    pillow_heif.register_heif_opener()
    kinds = (("one.jpg", "JPEG"), ("two.png", "PNG"), ("three.webp", "WEBP"), ("four.heic", "HEIF"))
    send(page, *((name, encoded(kind)) for name, kind in kinds))
    assert [p.file for p in page.project.brief.pictures] == ["one.jpg", "two.jpg", "three.jpg", "four.jpg"]
    assert page.pinned.wall.value.count("<figure") == 4
    assert page.failures == []


def test_nothing_of_where_a_picture_was_taken_is_kept(page: StylePage) -> None:
    exif = Image.Exif()
    exif.get_ifd(0x8825)[1] = "N"  # GPS
    exif[0x010F] = "Camera"
    send(page, ("home.jpg", encoded("JPEG", exif=exif)))
    with Image.open(page.pinned.folder / "home.jpg") as kept:
        assert not kept.getexif()


def test_a_picture_is_told_of_by_a_click_and_taken_off(page: StylePage) -> None:
    send(page, ("one.png", encoded("PNG")), ("two.png", encoded("PNG", "#506e47")))
    page.pinned.pin_up._heard(None, {"kind": "chosen", "name": "one.jpg"}, [])
    page.pinned.say("liked", "the violet")
    page.pinned.say("tag", "material")
    one = page.project.brief.pictures[0]
    assert (one.liked, one.tag) == ("the violet", "material")
    assert "the violet" in page.pinned.wall.value
    page.pinned.only.bar.value = "material"
    assert page.pinned.wall.value.count("<figure") == 1
    page.pinned.take_off()
    assert [p.file for p in page.project.brief.pictures] == ["two.jpg"]
    assert page.pinned.chosen is None
    page.pinned.take_off()
    assert "no picture is chosen" in page.message.value


def test_photos_of_the_site_and_reference_pictures_never_mix(page: StylePage) -> None:
    send(page, ("mood.png", encoded("PNG")))
    site = WallPhotoPage(page.session)
    site.photo.take([{"name": "wall.png", "content": encoded("PNG")}])
    assert site.photo.photos.bar.options == (("choose ...", None), ("wall.jpg", "wall.jpg"))
    assert [p.file for p in page.project.brief.pictures] == ["mood.jpg"]
    assert [p.name for p in page.pinned.folder.iterdir()] == ["mood.jpg"]


def test_colours_are_kept_added_and_dropped(page: StylePage) -> None:
    send(page, ("one.png", encoded("PNG")))
    page.palette.take_colours()
    page.palette.add("Light coral")
    assert page.project.brief.style.colours[1:] == ("#f08080",)
    assert "light coral" in page.palette.table.value and "nearest to" not in page.palette.told().split("wheel")[0]
    page.palette.let_go(page.project.brief.style.colours[0])
    assert page.project.brief.style.colours == ("#f08080",)
    page.palette.add("lite coral")
    assert "is no colour that is known" in page.message.value
    assert page.failures == []


def test_the_wheel_changes_what_relation_the_colours_stand_in(page: StylePage) -> None:
    for colour in ("red", "lime"):
        page.palette.add(colour)
    page.palette.wheel.bar.value = "painters"
    assert "On the painters wheel they are complementary, fit 100%" in page.palette.told()


def test_two_styles_are_mixed_by_their_shares(page: StylePage) -> None:
    page.settings.start.bar.value = "cottage"
    page.settings.second.bar.value = "dry stone"
    assert page.project.brief.style.name == "cottage 60 %, dry stone 40 %"
    page.settings.share.bar.value = 0.25
    assert page.project.brief.style.mixed[0].name == "dry stone"
    assert "framework" in page.settings.table.value
    page.settings.set_forms("spire, mound")
    page.settings.set_most("2")
    style = page.project.brief.style
    assert (style.forms, style.materials_most) == (("spire", "mound"), 2)
    page.settings.set_forms("spiky")
    assert "no plant has the form" in page.message.value
    page.settings.second.bar.value = None
    assert page.project.brief.style == STYLES["cottage"]
    assert page.failures == []


def test_thirty_pictures_are_smaller_than_three(tmp_path: Path) -> None:
    gardens.copy_garden(gardens.examples()[0], tmp_path / "garden")
    page = StylePage(Session(tmp_path / "garden"))
    assert "columns:180px 3;max-width:960px" in page.pinned.wall.value
    page.pinned.add([{"name": f"p{n}.png", "content": encoded("PNG")} for n in range(27)])
    assert page.pinned.wall.value.count("<figure") == 30
    assert "columns:130px" in page.pinned.wall.value


def test_a_picture_that_cannot_be_put_on_record_is_not_left_behind(
    page: StylePage, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object, **__: object) -> bool:
        return False

    monkeypatch.setattr(page.pinned, "edit", refused)
    send(page, ("one.jpg", encoded("JPEG")))
    assert list(page.pinned.folder.iterdir()) == [] and page.project.brief.pictures == ()
    assert page.failures == []
