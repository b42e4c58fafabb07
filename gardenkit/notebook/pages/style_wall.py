"""The wall of reference pictures: pinned up by drop, paste or file, each with what is liked and what it is for."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.brief import pictures
from gardenkit.brief.colour_names import name_of
from gardenkit.brief.palette import Swatch
from gardenkit.brief.style import TAGS, Picture
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.notebook.pin_up import PinUp
from gardenkit.project.edits import brief as edits
from gardenkit.storage import PICTURES_FOLDER
from gardenkit.storage.files import trouble

if TYPE_CHECKING:
    from gardenkit.notebook.pages.style import StylePage

NONE = ("choose, or click one", None)
ALL = ("all", "")
FEW, SEVERAL = 4, 9  # pictures up to which the wall shows large and middling ones. House values.
WIDE = (180, 165, 130)  # px of a column of large, middling, small pictures. House values.
LARGEST = 320  # px across of a picture where there are few. House value.
SIDES = (560, 400, 300)  # px of the picture itself: twice as sharp as a column on most screens. House values.
STYLE = """<style>
.gk-wall{column-gap:14px;margin-right:14px}.gk-wall img{display:block;width:100%}
.gk-wall figure{break-inside:avoid;margin:0 0 14px;cursor:pointer;border-radius:3px;overflow:hidden;background:#fff}
.gk-wall figure{box-shadow:0 1px 4px rgba(30,35,25,.28)}.gk-wall figure.gk-chosen{outline:3px solid #20639b}
.gk-wall .gk-shares{display:flex;height:12px}
.gk-wall figcaption{padding:5px 9px 8px;font-size:12.5px;line-height:1.35;color:#222}
.gk-wall figcaption i{display:block;color:#555}
.gk-wall figcaption span{display:block;color:#666;font-size:11px;margin-top:2px}
.gk-wall-many{max-height:640px;overflow-y:auto;padding:2px}
</style>"""


class ReferenceWall(Part):
    """The pictures, and what is said of the chosen one. Photos of the site are not among them."""

    page: "StylePage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.palettes: dict[str, tuple[Swatch, ...]] = {}
        self.small: dict[tuple[str, int], str] = {}
        self.pin_up = PinUp(self.add, self.choose)
        self.which = controls.choice("Picture", None, [NONE], self.choose, name="picture")
        self.caption = controls.field("What it shows", "", partial(self.say, "caption"), name="caption")
        self.liked = controls.field("What is liked", "", partial(self.say, "liked"), name="liked")
        self.tag = controls.choice("Pinned up for", TAGS[-1], TAGS, partial(self.say, "tag"), name="tag")
        self.off = controls.button("Remove this picture", self.take_off, name="picture-off", width="96%")
        self.only = controls.choice("Show", "", [ALL, *((tag, tag) for tag in TAGS)], self.show_only, name="wall-of")
        self.said = w.VBox([self.caption, self.liked, self.tag, self.off], layout=w.Layout(width="100%"))
        self.controls = [self.pin_up, self.which, self.said, self.only]
        self.wall = w.HTML()

    def refresh(self) -> None:
        """Show the wall and the chosen picture's words."""
        there = self.project.brief.pictures
        forms.relist(self.which, [NONE, *((p.caption or p.file, p.file) for p in there)], self.which.bar.value)
        chosen = self.chosen
        self.said.layout.display = "none" if chosen is None else ""
        self.only.layout.display = "" if len(there) > FEW else "none"
        if chosen is not None:
            self.caption.show(chosen.caption)
            self.liked.show(chosen.liked)
            self.tag.show(chosen.tag)
        self._show()

    @property
    def chosen(self) -> Picture | None:
        """The picture that is chosen, if any."""
        return next((p for p in self.project.brief.pictures if p.file == self.which.bar.value), None)

    @property
    def folder(self) -> Path:
        """The garden's folder of reference pictures."""
        return self.page.session.folder / PICTURES_FOLDER

    # ---- handlers

    @handler
    def choose(self, file: str | None) -> None:
        """Turn to a picture."""
        self.which.show(file)
        self.refresh()

    @handler
    def show_only(self, _: str) -> None:
        """Show the pictures of one tag, or all."""
        self._show()

    def say(self, field: str, value: str) -> None:
        """Say something else of the chosen picture."""
        file = self.which.bar.value
        if file:
            change: dict[str, Any] = {field: value}
            self.edit(f"{field} of {file}", lambda p: edits.change_picture(p, file, **change))

    def add(self, files: Sequence[Any]) -> None:
        """Pin pictures up; one that is no picture is named and the others are still pinned up."""
        problems = []
        for file in files:
            try:
                picture = pictures.add_picture(self.folder, file["name"], bytes(file["content"]))
            except GardenError as error:
                problems.append(str(error))
                continue
            except OSError as error:
                problems.append(trouble(error))
                continue
            if self.edit(f"add picture {picture.file}", partial(edits.add_picture, picture=picture)):
                self.choose(picture.file)
            else:
                (self.folder / picture.file).unlink(missing_ok=True)  # no record knows it
        if problems:
            self.message.problem("; ".join(problems))

    @handler
    def take_off(self) -> None:
        """Remove the chosen reference picture; its file stays in the folder."""
        file = self.which.bar.value
        if file is None:
            raise GardenError("no picture is chosen; choose one first")
        self.edit(f"take off {file}", lambda p: edits.remove_picture(p, file))

    # ---- what is shown

    def swatches(self, file: str) -> tuple[Swatch, ...]:
        """Return the colours of one picture, the largest share first. Raises GardenError for one that is gone."""
        path = self.folder / file
        key = f"{path}:{path.stat().st_mtime_ns if path.exists() else 0}"
        if key not in self.palettes:
            self.palettes[key] = pictures.colours_of(path)
        return self.palettes[key]

    def _show(self) -> None:
        tag = self.only.bar.value
        there = [p for p in self.project.brief.pictures if not tag or p.tag == tag]
        size = 0 if len(there) <= FEW else 1 if len(there) <= SEVERAL else 2
        tiles = "".join(self._tile(picture, SIDES[size]) for picture in there)
        empty = "No pictures yet: drop, paste or choose some. Gardens, walls, woods, cloth: whatever sets the tone."
        none = f'<p class="gk-label">{"No picture is pinned up for " + escaped(tag) + " yet." if tag else empty}</p>'
        few = f" {len(there)};max-width:{len(there) * LARGEST}px" if not size else ""  # as many columns as pictures
        style = f"columns:{WIDE[size]}px{few}"
        held = f'<div class="gk-wall" style="{style}">{tiles}</div>'
        if size == len(SIDES) - 1:  # many: the wall scrolls, so that colours and style stay near their controls
            held = f'<div class="gk-wall-many" tabindex="0" aria-label="reference pictures">{held}</div>'
        self.wall.value = STYLE + (held if tiles else none)

    def _tile(self, picture: Picture, side: int) -> str:
        path, words = self.folder / picture.file, escaped(picture.caption or picture.file)
        try:
            shares = self.swatches(picture.file)
            address = self._address(path, side)
        except GardenError as error:
            return f'<div class="gk-message gk-problem">{escaped(error)}</div>'
        strip = "".join(
            f'<b style="flex:{s.share};background:{s.colour}" title="{name_of(s.colour)}, {s.share:.0%}"></b>'
            for s in shares
        )
        chosen = ' class="gk-chosen"' if picture.file == self.which.bar.value else ""
        liked = f"<i>{escaped(picture.liked)}</i>" if picture.liked else ""
        return (
            f'<figure data-picture="{escaped(picture.file)}"{chosen}><img src="{address}" alt="{words}">'
            f'<div class="gk-shares">{strip}</div>'
            f"<figcaption>{words}{liked}<span>{picture.tag}</span></figcaption></figure>"
        )

    def _address(self, path: Path, side: int) -> str:
        key = (f"{path}:{path.stat().st_mtime_ns}", side)
        if key not in self.small:
            self.small[key] = pictures.thumbnail_url(path, side=side)
        return self.small[key]
