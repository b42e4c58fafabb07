"""What stands on the documents: the office, the issue, and warnings that are accepted with a reason."""

import datetime as dt

import ipywidgets as w

from gardenkit import reading
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.part import Part
from gardenkit.project import Project
from gardenkit.project.edits import handover as edits

Told = tuple[str, str]  # where and what of a warning


class IssuePart(Part):
    """The company with its contact and logo, the revision and the date that every document carries."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.company = controls.field("Company", "", lambda text: self.name_office("company", text), name="company")
        self.contact = controls.field("Contact", "", lambda text: self.name_office("contact", text), name="contact")
        logo = "Logo (a file in the pictures folder)"
        self.logo = controls.field(logo, "", lambda text: self.name_office("logo", text), name="logo")
        self.revision = controls.field("Revision", "", self.revise, name="revision")
        self.issued = controls.field("Date", "", self.date, name="issued", hint="the day of writing")
        rows = [self.company, self.contact, self.logo, self.revision, self.issued]
        self.widget = w.VBox([heading("On every document"), *rows])

    def refresh(self) -> None:
        """Show what the garden's documents carry."""
        said = self.project.handover
        self.company.show(said.company)
        self.contact.show(said.contact)
        self.logo.show(said.logo)
        self.revision.show(said.revision)
        self.issued.show(said.issued.isoformat() if said.issued else "")

    @handler
    def name_office(self, what: str, text: str) -> None:
        """Take the company, its contact or its logo."""
        self.edit("the office on the documents", lambda project: edits.set_office(project, **{what: text}))

    @handler
    def revise(self, text: str) -> None:
        """Take the revision that the next documents carry."""
        if self.edit("the revision of the documents", lambda project: edits.set_revision(project, text)):
            self.message.say(f"documents now carry revision {self.project.handover.revision}")

    @handler
    def date(self, text: str) -> None:
        """Take the date that the next documents carry; nothing for the day on which each is written."""
        on = reading.date(text) if text.strip() else None
        self.edit("the date of the documents", lambda project: edits.set_issued(project, on))


class WarningsPart(Part):
    """The warnings that hold the client edition back: mended elsewhere, or accepted, all of one reason at once."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.told = w.HTML()
        self.open: dict[Told, controls.Labelled] = {}
        self.listed = w.VBox()
        self.listed.add_class("gk-open-warnings")
        self.reason = controls.field("Why they may stand, for the client to read", "", lambda _: None, name="reason")
        take = controls.button("Accept those ticked, with this reason", self.accept, name="accept", width="96%")
        self.accepted = controls.choice("Accepted", None, [("none", None)], lambda _: None, name="accepted-warnings")
        back = controls.button("Open it again", self.reopen, name="reopen", width="96%")
        self.waiting, self.settled = w.VBox([self.listed, self.reason, take]), w.VBox([self.accepted, back])
        self.widget = w.VBox([self.told, self.waiting, self.settled])

    def refresh(self) -> None:
        """List the open and the accepted warnings."""
        told = [(line.where, line.what) for line in self.garden.open_warnings]
        self.open = {one: self.open.get(one) or controls.tick("", False, lambda _: None) for one in told}
        for one, box in self.open.items():
            box.bar.description = self._words(one)
        if self.listed.children != tuple(self.open.values()):
            self.listed.children = tuple(self.open.values())
        self._list([(one.where, one.what) for one in self.project.handover.accepted], self.accepted)
        self.waiting.layout.display = "" if told else "none"
        self.settled.layout.display = "" if self.project.handover.accepted else "none"
        words = "The client edition waits for these; tick those that one reason holds for:"
        self.told.value = controls.label(words if told else "No warning holds the client edition back.").value

    def _words(self, one: Told) -> str:
        return self.garden.say(f"{one[0]}: {one[1]}")

    def _list(self, told: list[Told], shown: controls.Labelled) -> None:
        kept = shown.bar.value
        listed: list[tuple[str, Told | None]] = [(self._words(one), one) for one in told]
        options = listed or [("none", None)]
        shown.quiet = True
        shown.bar.options = options
        shown.bar.value = kept if kept in told else options[0][1]
        shown.quiet = False

    @handler
    def accept(self) -> None:
        """Accept the ticked warnings with the reason that is typed, as one step."""
        ticked = [told for told, box in self.open.items() if box.bar.value]
        if not ticked:
            raise GardenError("no warning is ticked; tick those that may stand for the reason that is typed")
        reason, today = self.reason.bar.value, dt.datetime.now(tz=dt.UTC).date()

        def accepted(project: Project) -> Project:
            for where, what in ticked:
                project = edits.accept(project, where=where, what=what, reason=reason, on=today)
            return project

        label = f"accept the warning about {ticked[0][0]}" if len(ticked) == 1 else f"accept {len(ticked)} warnings"
        if self.edit(label, accepted):
            self.reason.show("")

    @handler
    def reopen(self) -> None:
        """Take back that the chosen warning was accepted."""
        if self.accepted.bar.value is None:
            raise GardenError("there is no accepted warning; nothing needs to be done here")
        where, what = self.accepted.bar.value
        self.edit(f"open the warning about {where} again", lambda p: edits.reopen(p, where=where, what=what))
