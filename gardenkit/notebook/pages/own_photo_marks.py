"""Marking on the page of the designer's own photo: places that the plan knows, and what stands in front."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms, wall_pictures
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project.edits import photos as edits
from gardenkit.project.photo_spots import spots
from gardenkit.site.photo_camera import CHECKED_MARKS
from gardenkit.site.site_photos import PhotoMark
from gardenkit.units import System, length, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.own_photo import OwnPhotoPage

OWN = "another place, typed or clicked on the plan"
MARK, ANYTHING = "mark a place", "outline what is in front"
HINT = (
    f"Choose a place, then click where it is on the photo: at least four, better {CHECKED_MARKS} or more, near and far,"
    " high and low. Use the whole photo, not a cut-out. Drag a mark to put it right."
)


def _entries(units: System) -> tuple[Entry, ...]:
    at, high = ("4, 9", "1.8 m") if units == "metric" else ("13', 30'", "6'")
    return (
        Entry(key="name", words="What the place is", hint="lamp post, top"),
        Entry(key="at", words="x, y on the plan (or click there)", hint=at),
        Entry(key="height", words="Height above the plan's zero", hint=high, start="0"),
    )


class Marking(Part):
    """What a click on the photo does: mark the place chosen, or go round what stands in front."""

    page: "OwnPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.begun: tuple[Point, ...] = ()
        self.does = controls.choice("A click on the photo", MARK, (MARK, ANYTHING), self.turn, name="photo-click")
        self.place = controls.choice("Place", OWN, (OWN,), self.turn, name="photo-place")
        self.own = Form(_entries(self.project.units), name="photo-spot")
        self.tree = controls.choice("It is", "", [("anything", "")], self.turn, name="photo-front")
        self.list = w.HTML()
        self.controls = [
            controls.label(HINT),
            self.does,
            self.place,
            self.own,
            controls.button("Take away this mark", self.remove, name="photo-unmark", width="96%"),
            self.tree,
            controls.button("Close the outline", self.close, name="photo-close", width="96%"),
            controls.button("Take away the outlines", self.clear, name="photo-clear", width="96%"),
        ]

    def refresh(self) -> None:
        """Offer the places of the plan and the trees to keep, and list the marks with how far each lies off."""
        forms.relist(self.place, [(n, n) for n in (*spots(self.project), OWN)], self.place.bar.value)
        kept = [(tree.name, tree.name) for tree in self.project.site.trees if tree.keep]
        forms.relist(self.tree, [("anything", ""), *kept], self.tree.bar.value)
        self._arrange()
        one, found, units = self.page.photo.chosen, self.page.photo.found, self.project.units
        rows = []
        for number, mark in enumerate(one.marks if one is not None else ()):
            off = f"{found.off[number]:.1f} px" if found is not None else ""
            at = forms.show_point(mark.at, units)
            rows.append((str(number + 1), mark.name, at, show_length(mark.height, units), off))
        heads = ("", "place", "on the plan", "height", "off")
        said = self.page.photo.words() if found is not None else self.page.photo.problem
        self.list.value = (controls.table_html(heads, rows) if rows else "") + controls.label(said).value

    # ---- handlers

    @handler
    def turn(self, _: object) -> None:
        """Let a click mean something else, or mark another place."""
        self.begun = ()
        self._arrange()
        self.page.photo.plan.update(self.page.photo.scene())

    def click(self, at: Point) -> None:
        """Take in a click on the photo, pixels right and up."""
        self._click(at)

    @handler
    def _click(self, at: Point) -> None:
        one = self.page.photo.needed()
        pixel = wall_pictures.pixel_at(at, (one.wide, one.high))
        if self.does.bar.value == MARK:
            mark = self._wanted(pixel)
            self.page.edit(f"mark {mark.name}", lambda p: edits.mark_photo(p, one.name, mark))
        else:
            self.begun = (*self.begun, pixel)
            self.page.photo.plan.update(self.page.photo.scene())

    @handler
    def take_from_plan(self, at: Point) -> None:
        """Take the place of a mark of its own from a click on the plan."""
        self.place.show(OWN)
        self._arrange()
        self.own.fill(at=forms.show_point(at, self.project.units))

    @handler
    def move(self, name: str, at: Point) -> None:
        """Put a mark that was dragged on the photo."""
        one = self.page.photo.needed()
        old = next(mark for mark in one.marks if mark.name == name)
        pixel = wall_pictures.pixel_at(at, (one.wide, one.high))
        moved = PhotoMark(name=name, pixel=pixel, at=old.at, height=old.height)
        self.page.edit(f"move mark {name}", lambda p: edits.mark_photo(p, one.name, moved), gesture=f"mark {name}")

    @handler
    def remove(self) -> None:
        """Take the mark of the chosen place off the photo."""
        one, name = self.page.photo.needed(), self._name()
        self.page.edit(f"unmark {name}", lambda p: edits.remove_mark(p, one.name, name))

    @handler
    def close(self) -> None:
        """Put the outline that was clicked on record."""
        one, ring, of = self.page.photo.needed(), self.begun, str(self.tree.bar.value)
        if self.page.edit("outline in front", lambda p: edits.outline_in_front(p, one.name, ring, of=of)):
            self.begun = ()
            self.page.photo.plan.update(self.page.photo.scene())

    @handler
    def clear(self) -> None:
        """Take every outline off the photo."""
        one = self.page.photo.needed()
        self.page.edit("take outlines away", lambda p: edits.remove_outlines(p, one.name))

    # ---- helpers

    def _arrange(self) -> None:
        marks = self.does.bar.value == MARK
        self.place.layout.display = "" if marks else "none"
        self.own.layout.display = "" if marks and self.place.bar.value == OWN else "none"
        self.tree.layout.display = "none" if marks else ""

    def _name(self) -> str:
        chosen = str(self.place.bar.value)
        return self.own.texts()["name"] if chosen == OWN else chosen

    def _wanted(self, pixel: Point) -> PhotoMark:
        known, chosen, units = spots(self.project), str(self.place.bar.value), self.project.units
        if chosen in known:
            x, y, height = known[chosen]
            return PhotoMark(name=chosen, pixel=pixel, at=(x, y), height=height)
        texts = self.own.texts()
        at = forms.point(texts["at"], units, "the place on the plan")
        bare = forms.bare_unit(units)
        height = length(texts["height"] or "0", bare=bare, where="the height of the place", signed=True)
        return PhotoMark(name=texts["name"], pixel=pixel, at=at, height=height)
