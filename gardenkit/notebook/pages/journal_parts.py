"""The parts of the journal page: writing something down, what is written, and what it corrects."""

import datetime as dt
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit import reading
from gardenkit.brief import pictures
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.planting import kind_named
from gardenkit.notebook.part import Part
from gardenkit.notebook.pin_up import PinUp
from gardenkit.planting.journal import HAPPENED, NEXT_YEAR, Correction, JournalEntry
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.edits import journal as edits
from gardenkit.project.lived import Seen, day_words, gone
from gardenkit.storage import JOURNAL_FOLDER
from gardenkit.storage.files import trouble
from gardenkit.units import show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.journal import JournalPage

NO_PLANT, NO_PHOTO = ("none in particular", None), ("no photo", "")
HERE, NOWHERE = "at the round handle", "the whole garden"
ASKED = {  # what is asked about each thing that happens
    "died": ("plant",),
    "moved": ("plant", "moving"),
    "came by itself": ("kind", "where"),
    "divided": ("plant", "parts"),
    "replaced": ("plant", "kind"),
    "flowered": ("plant", "kind", "where", "until"),
    "measured": ("plant", "height", "spread"),
    "note": ("plant", "where"),
}
TO_DO_WORDS = {"": "nothing", "replace": "replace it", "divide": "divide it", "order": "order it", "watch": "watch it"}
SIZE_HINTS = {"imperial": ("2' 6\"", "1' 8\""), "metric": ("0.75", "0.5")}
SIDE = 320  # px of a photo's longer side on the page. House value.
LINES = 6  # of the list of entries that are seen at once. House value.


class WriteDown(Part):
    """What happened, to which plant or where, when, and what there is to say about it."""

    page: "JournalPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.happened = controls.choice("What happened", "flowered", HAPPENED, self.ask, name="happened")
        self.date = controls.field("Date", today().isoformat(), self.dated, name="journal-date", hint="2027-06-14")
        self.plant = controls.choice("Plant (or click it on the plan)", None, [NO_PLANT], self.looked, name="lived")
        self.kind = controls.field("Kind, by its name", "", _nothing, name="journal-kind", hint="Salvia nemorosa")
        self.where = controls.choice("Where", NOWHERE, [NOWHERE], _nothing, name="journal-where")
        self.parts = controls.field("Into how many parts", "2", _nothing, name="journal-parts")
        self.until = controls.field("Last seen in flower", "", _nothing, name="journal-until", hint="when it is over")
        hints = SIZE_HINTS[self.project.units]
        self.height = controls.field("Height", "", _nothing, name="journal-height", hint=hints[0])
        self.spread = controls.field("Width", "", _nothing, name="journal-spread", hint=hints[1])
        self.moving = controls.label("Drag the round handle to where it stands now.")
        self.note = forms.lines("In words", rows=2, name="journal-note")
        self.later = controls.choice("Next year", "", _to_do_options(), _nothing, name="journal-later")
        self.photo = controls.choice("Photo", "", [NO_PHOTO], _nothing, name="journal-photo")
        self.pin_up = PinUp(self.add_photos, lambda _: None)
        write = controls.button("Write it down", self.write, name="write-down", width="96%")
        self.asked = {
            word: getattr(self, word)
            for word in ("plant", "kind", "where", "moving", "parts", "until", "height", "spread")
        }
        rest = [self.date, self.note, self.later, self.photo, self.pin_up, write]
        self.widget = w.VBox([self.happened, *self.asked.values(), *rest], layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Offer the plants, beds and photos as they stand."""
        plants = [*self.project.planting.plants, *self._dead()]
        listed = [NO_PLANT, *((f"{p.number}  {p.species}", p.number) for p in plants)]
        forms.relist(self.plant, listed, self.number)
        beds = [bed.name for bed in self.garden.beds] if self.project.site.boundary else []
        places = [NOWHERE, *([HERE] if beds else ()), *beds]
        forms.relist(self.where, [(name, name) for name in places], self.where.bar.value)
        files = [NO_PHOTO, *((name, name) for name in self.photos())]
        forms.relist(self.photo, files, self.photo.bar.value)
        self._ask()

    @property
    def number(self) -> int | None:
        """The number of the plant that is chosen."""
        value = self.plant.bar.value
        return None if value is None else int(value)

    @property
    def folder(self) -> Path:
        """The garden's folder of journal photos."""
        return Path(self.page.session.folder) / JOURNAL_FOLDER

    def photos(self) -> list[str]:
        """Return the names of the photos in the folder."""
        there = self.folder.iterdir() if self.folder.is_dir() else ()
        return sorted(path.name for path in there if path.suffix == ".jpg" and not path.name.startswith("."))

    def day(self) -> dt.date:
        """Return the date typed, today's where it cannot be read."""
        try:
            return reading.date(self.date.bar.value)
        except GardenError:
            return today()

    # ---- handlers

    @handler
    def ask(self, _: str) -> None:
        """Ask what belongs to another thing that happened."""
        self.refresh()

    def dated(self, _: str) -> None:
        """Look at the plan of another year."""
        self.page.looked()

    def looked(self, _: object) -> None:
        """Look at another plant."""
        plant = next((p for p in self.project.planting.plants if p.number == self.number), None)
        if plant is not None:
            self.page.spot = plant.at
        self.page.looked()

    def choose(self, number: int | None) -> None:
        """Choose a plant, or none in particular."""
        forms.relist(self.plant, list(self.plant.bar.options), number)
        if number is None and HERE in dict(self.where.bar.options):
            self.where.show(HERE)

    def add_photos(self, files: Sequence[Any]) -> None:
        """Keep photos in the garden's folder; the last one is chosen for the next entry."""
        problems = []
        for file in files:
            try:
                kept = pictures.add_picture(self.folder, file["name"], bytes(file["content"])).file
            except GardenError as error:
                problems.append(str(error))
            except OSError as error:
                problems.append(trouble(error))
            else:
                self.refresh()
                self.photo.show(kept)
                self.message.say(f"{kept} is kept in the garden's folder {JOURNAL_FOLDER}; write down what it shows")
        if problems:
            self.message.problem("; ".join(problems))

    @handler
    def write(self) -> None:
        """Write it down; the plan follows."""
        happened = str(self.happened.bar.value)
        date = _past(reading.date(self.date.bar.value), "the date")
        words: dict[str, Any] = {
            "date": date,
            "note": self.note.bar.value.strip(),
            "photo": self.photo.bar.value,
            "next_year": self.later.bar.value,
        }
        change = self._change(happened, words)
        if self.edit(f"journal: {happened} {date}", change):
            self.note.show("")
            self.photo.show("")
            self.later.show("")
            self.message.say(f"written down: {happened}, {date}; the plan and next year's list follow")

    # ---- helpers

    def _change(self, happened: str, words: dict[str, Any]) -> Callable[[Project], Project]:
        if happened in edits.ONLY_WORDS:
            seen = self._seen(happened) | words
            return lambda p: edits.write_down(p, happened, **seen)
        if happened == "came by itself":
            kind, place = kind_named(self.garden.catalogue, self.kind.bar.value), self._place()
            return lambda p: edits.came(p, kind, **place, **words)
        number = self._needed()
        if happened == "died":
            return lambda p: edits.died(p, number, **words)
        if happened == "moved":
            spot = self.page.spot
            return lambda p: edits.moved(p, number, to=spot, **words)
        if happened == "divided":
            parts, apart = self._parts(), self._apart(number)
            return lambda p: edits.divided(p, number, into=parts, apart=apart, **words)
        by = kind_named(self.garden.catalogue, self.kind.bar.value)
        return lambda p: edits.replaced(p, number, by=by, **words)

    def _seen(self, happened: str) -> dict[str, Any]:
        """Return what was seen of a plant, a kind or a place."""
        found: dict[str, Any] = {} if self.number is None else {"number": self.number}
        if happened == "measured":
            self._needed()
            found |= {"height": self._size(self.height, "the height"), "spread": self._size(self.spread, "the width")}
        elif self.number is None:
            found |= self._place()
        if happened == "flowered":
            typed = self.until.bar.value.strip()
            found["until"] = _past(reading.date(typed, "the last day"), "the last day") if typed else None
            if self.number is None:
                found["species"] = kind_named(self.garden.catalogue, self.kind.bar.value)
        return found

    def _needed(self) -> int:
        if self.number is None:
            raise GardenError("no plant is chosen; choose one from the list or click it on the plan")
        return self.number

    def _place(self) -> dict[str, Any]:
        where = self.where.bar.value
        return {"at": self.page.spot} if where == HERE else {} if where == NOWHERE else {"bed": where}

    def _parts(self) -> int:
        return reading.whole(self.parts.bar.value, "the number of parts", low=2, high=edits.MOST_PARTS)

    def _apart(self, number: int) -> float:
        kind = self.garden.species_of.get(str(number), "")
        return self.garden.catalogue[kind].spacing_m if kind else 0.3

    def _size(self, box: controls.Labelled, what: str) -> float | None:
        typed = str(box.bar.value).strip()
        return self.page.metres(typed, what) if typed else None

    def _dead(self) -> list[Plant]:
        """Return the plants that died and may yet be replaced, where that is what happened."""
        if self.happened.bar.value != "replaced":
            return []
        again = {e.number for e in self.project.journal.entries if e.happened == "replaced"}
        return [plant for number, plant in gone(self.project.journal).items() if number not in again]

    def _ask(self) -> None:
        shown = ASKED[str(self.happened.bar.value)]
        for word, box in self.asked.items():
            box.layout.display = "" if word in shown else "none"


class Kept(Part):
    """The entries as a list and a table, the words of the chosen one, and the photos by date and place."""

    page: "JournalPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.table, self.gallery = w.HTML(), w.HTML()
        self.which = controls.choice("Entries", None, [("choose ...", None)], self.choose, name="entry", lines=LINES)
        self.until = controls.field("Last seen in flower", "", _nothing, name="entry-until", hint="2027-07-20")
        self.note = forms.lines("In words", rows=2, name="entry-note")
        self.later = controls.choice("Next year", "", _to_do_options(), _nothing, name="entry-later")
        change = controls.button("Change its words", self.change, name="change-entry", width="96%")
        out = controls.button("Delete", self.take_out, name="take-out-entry", tip="the plan stays", width="96%")
        self.about = w.VBox([self.until, self.note, self.later, change, out], layout=w.Layout(width="100%"))
        self.widget = w.VBox([self.which, self.about], layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Show the entries, the newest first."""
        entries = self.entries()
        listed = [("choose ...", None), *((f"{e.date}  {e.happened}  {e.species}", e.id) for e in entries)]
        forms.relist(self.which, listed, self.which.bar.value)
        self.widget.layout.display = "" if entries else "none"
        self._show()
        heads = ("date", "what", "plant", "where", "seen", "in words", "photo")
        rows = [self.row(entry) for entry in entries]
        self.table.value = controls.table_html(heads, rows, caption="The journal") if rows else ""
        photos = [entry for entry in entries if entry.photo]
        tiles = "".join(self._tile(entry) for entry in photos)
        self.gallery.value = f'<div style="display:flex;flex-wrap:wrap;gap:14px">{tiles}</div>' if tiles else ""

    def entries(self) -> list[JournalEntry]:
        """Return the entries, the newest first."""
        return sorted(self.project.journal.entries, key=lambda e: (e.date, e.id), reverse=True)

    def row(self, entry: JournalEntry) -> tuple[str, ...]:
        """Return an entry as a row of the table."""
        there = {plant.number for plant in self.project.planting.plants}
        gone_by = " (no longer in the plan)" if entry.number is not None and entry.number not in there else ""
        plant = f"{'' if entry.number is None else f'{entry.number} '}{entry.species}{gone_by}"
        return (
            entry.date.isoformat(),
            entry.happened,
            plant,
            self.place_of(entry),
            self._figures(entry),
            entry.note,
            entry.photo,
        )

    def place_of(self, entry: JournalEntry) -> str:
        """Return where an entry happened, in words."""
        if entry.at is None:
            return ""
        bed = self.garden.layout.bed_at(entry.at) if self.project.site.boundary else None
        return bed.name if bed is not None else forms.show_point(entry.at, self.project.units)

    @handler
    def choose(self, _: int | None) -> None:
        """Show what is said of another entry."""
        self._show()

    @handler
    def change(self) -> None:
        """Change what is said of the chosen entry."""
        number, typed = self._chosen().id, self.until.bar.value.strip()
        until = _past(reading.date(typed, "the last day"), "the last day") if typed else None
        words = {"note": self.note.bar.value.strip(), "next_year": self.later.bar.value, "until": until}
        if self.edit(f"journal entry {number}", lambda p: edits.change_entry(p, number, **words)):
            self.message.say("the entry is changed")

    @handler
    def take_out(self) -> None:
        """Take the chosen entry out of the journal; what it did to the plan stays."""
        number = self._chosen().id
        if self.edit(f"journal entry {number} out", lambda p: edits.remove_entry(p, number)):
            self.message.say("the entry is taken out; the plan stays as it is, Undo brings the entry back")

    def _chosen(self) -> JournalEntry:
        if self.which.bar.value is None:
            raise GardenError("no entry is chosen; choose one from the list")
        return edits.entry_of(self.project.journal, int(self.which.bar.value))

    def _show(self) -> None:
        number = self.which.bar.value
        self.about.layout.display = "none" if number is None else ""
        if number is not None:
            entry = self._chosen()
            self.note.show(entry.note)
            self.later.show(entry.next_year)
            self.until.show("" if entry.until is None else entry.until.isoformat())
            self.until.layout.display = "" if entry.happened == "flowered" else "none"

    def _figures(self, entry: JournalEntry) -> str:
        units = self.project.units
        said = [
            f"until {entry.until}" if entry.until else "",
            f"{show_length(entry.height, units)} high" if entry.height is not None else "",
            f"{show_length(entry.spread, units)} wide" if entry.spread is not None else "",
            f"to {forms.show_point(entry.to, units)}" if entry.to is not None else "",
            f"plants {', '.join(map(str, entry.into))}" if entry.happened == "divided" else "",
            f"by {', '.join(self._planted(entry))}" if entry.happened == "replaced" else "",
        ]
        return ", ".join(part for part in said if part)

    def _planted(self, entry: JournalEntry) -> list[str]:
        """Return what was planted in the place of another, by number and kind."""
        kinds = {plant.number: plant.species for plant in self.project.planting.plants}
        return [f"{number} {kinds.get(number, '(no longer in the plan)')}" for number in entry.into]

    def _tile(self, entry: JournalEntry) -> str:
        words = escaped(", ".join(part for part in (str(entry.date), self.place_of(entry), entry.species) if part))
        try:
            address = pictures.thumbnail_url(self.page.writing.folder / entry.photo, side=SIDE)
        except GardenError as error:
            return f'<div class="gk-message gk-problem">{escaped(error)}</div>'
        note = f"<br>{escaped(entry.note)}" if entry.note else ""
        picture = f'<img src="{address}" alt="{words}" style="max-width:100%;display:block">'
        return f'<figure style="margin:0;max-width:{SIDE}px">{picture}<figcaption>{words}{note}</figcaption></figure>'


class Corrections(Part):
    """What was seen beside what is worked out, and which kinds are corrected for this garden."""

    page: "JournalPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.table = w.HTML()
        self.offered = controls.choice("Corrections it speaks for", None, [("none", None)], _nothing, name="correction")
        accept = controls.button("Accept it for this garden", self.accept, name="accept-correction", width="96%")
        self.accepted = controls.choice("Corrected here", None, [("nothing", None)], _nothing, name="corrected")
        back = controls.button("Take it back", self.take_back, name="take-correction-back", width="96%")
        self.may = w.VBox([self.offered, accept], layout=w.Layout(width="100%"))
        self.has = w.VBox([self.accepted, back], layout=w.Layout(width="100%"))
        self.widget = w.VBox([self.may, self.has], layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Show what was seen, what that speaks for and what was accepted."""
        offered = [(correction_words(one.correction), one.correction) for one in self.garden.living.proposals]
        forms.relist(self.offered, offered or [("none", None)], self.offered.bar.value)
        made = [(correction_words(one), one.species) for one in self.project.journal.corrections]
        forms.relist(self.accepted, made or [("nothing", None)], self.accepted.bar.value)
        self.may.layout.display = "" if offered else "none"
        self.has.layout.display = "" if made else "none"
        rows = [self.row(one) for one in self.garden.living.seen]
        heads = ("kind", "what", "worked out", "seen", "difference")
        caption = "Seen beside worked out"
        self.table.value = controls.table_html(heads, rows, caption=caption) if rows else ""

    def row(self, one: Seen) -> tuple[str, ...]:
        """Return one figure as a row of the table."""
        year, name = one.entry.date.year, one.species.botanical
        if one.what in ("height", "spread"):
            shown = [show_length(size, self.project.units) for size in (one.worked_out, one.seen)]
            return name, one.what, shown[0], f"{shown[1]} in {year}", f"{one.seen / one.worked_out:.0%} of it"
        off = round((one.seen - one.worked_out + 182.5) % 365.0 - 182.5)
        when = f"{abs(off)} days {'later' if off > 0 else 'earlier'}" if abs(off) > 7 else "agrees"
        day = one.entry.date if one.what == "first flower" else one.entry.until
        return name, one.what, f"about {day_words(one.worked_out)}", str(day), when

    @handler
    def accept(self) -> None:
        """Accept the chosen correction for this garden."""
        made: Correction | None = self.offered.bar.value
        if made is None:
            raise GardenError("the journal speaks for no correction yet; write down flowers or sizes first")
        if self.edit(
            f"{made.species} as seen here",
            lambda p: edits.correct(p, made.species, days=made.days, growth=made.growth),
        ):
            self.message.say(f"{correction_words(made)}; every figure follows")

    @handler
    def take_back(self) -> None:
        """Take the chosen correction back."""
        kind = self.accepted.bar.value
        if kind is None:
            raise GardenError("nothing is corrected in this garden yet")
        if self.edit(f"{kind} as in the catalogue", lambda p: edits.take_back(p, kind)):
            self.message.say(f"{kind} is worked out by the catalogue again")


def correction_words(made: Correction) -> str:
    """Return a correction in words.

    >>> correction_words(Correction(species="Salvia nemorosa", days=-14, growth=0.8))
    'Salvia nemorosa flowers 14 days earlier, grows 0.8 times as large'
    """
    when = f"flowers {abs(made.days):.0f} days {'later' if made.days > 0 else 'earlier'}" if made.days else ""
    size = f"grows {made.growth:g} times as large" if made.growth != 1.0 else ""
    return f"{made.species} {', '.join(part for part in (when, size) if part)}"


def today() -> dt.date:
    """Return the day that a new entry begins with."""
    return dt.datetime.now(tz=dt.UTC).date()


def _past(date: dt.date, what: str) -> dt.date:
    if date > today() + dt.timedelta(days=1):  # it may be tomorrow already where the garden is
        raise GardenError(f"{what} {date} is yet to come; write down what was seen, with its day")
    return date


def _to_do_options() -> list[tuple[str, str]]:
    return [(TO_DO_WORDS[word], word) for word in NEXT_YEAR]


def _nothing(_: object) -> None:
    """Do nothing: the field is read when the entry is written."""
