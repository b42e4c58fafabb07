"""A garden counted in one area of the property: its schedules, costs and wants, over the plan of the whole."""

from collections.abc import Sequence
from functools import cached_property

import attrs

from gardenkit.findings import Finding
from gardenkit.garden import Garden, register
from gardenkit.garden.gathered import gathered
from gardenkit.geometry.plane import Region
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name
from gardenkit.project.layout import Layout
from gardenkit.project.within import ground_of, within
from gardenkit.schedules.setting_out import SettingOut


class GardenOfArea(Garden):
    """A garden of which one area of the property is counted: what schedules, costs, water, care, wants and documents
    tell is of that area, while the plan, the sun and the rules are still those of the whole.
    """

    def __init__(self, whole: Garden, name: str) -> None:
        super().__init__(whole.project, whole.folder)
        self._whole, self.record = whole, by_name(whole.project.areas, name, "area of the property")

    @property
    def whole(self) -> Garden:
        """The garden of which all is counted."""
        return self._whole

    @property
    def area(self) -> str:
        """The area that is counted."""
        return self.record.name

    @property
    def layout(self) -> Layout:
        """Paths, stones, beds and areas of the whole garden."""
        return self.whole.layout

    @cached_property
    def area_ground(self) -> Region:
        """The ground of the area."""
        return ground_of(self.layout, self.record)

    @cached_property
    def setting_out(self) -> SettingOut:
        """The places that lie in the area, by their numbers on the sheet of the whole garden."""
        found, paths = self.whole.setting_out, {path.name for path in self.counted.structure.paths}
        marks = tuple(mark for mark in found.marks if self.in_area(mark.at))
        return attrs.evolve(found, marks=marks, bends=tuple(bend for bend in found.bends if bend.path in paths))

    @cached_property
    def _part(self) -> tuple[Project, Layout]:
        return within(self.project, self.layout, self.record)

    @cached_property
    def counted(self) -> Project:
        """The part of the garden that lies in the area."""
        return self._part[0]

    @cached_property
    def counted_layout(self) -> Layout:
        """The part of the layout that lies in the area."""
        return self._part[1]

    @cached_property
    def said(self) -> tuple[Finding, ...]:
        """What the rules say about what lies in the area, and what they say of no place at all."""
        single = (one for line in self.whole.said for one in line.members or (line,))
        return gathered(filter(self._is_here, single), lambda subject: register.called(self.whole, subject))

    @cached_property
    def advice(self) -> tuple[Finding, ...]:
        """What is said about the area with what would mend it, tried on the whole garden."""
        return register.advice(self.whole, self.said)

    def said_about(self, topics: Sequence[str]) -> tuple[Finding, ...]:
        """Return what is said of the whole garden about some topics: what answers are judged by."""
        return self.whole.said_about(topics)

    def advice_about(self, topics: Sequence[str]) -> tuple[Finding, ...]:
        """Return the part of the whole garden's advice that is about some topics."""
        return self.whole.advice_about(topics)

    def _is_here(self, finding: Finding) -> bool:
        spots = register.spots(self.whole, finding)
        if spots:
            return any(self.in_area(at) for at in spots)
        elsewhere = {species.botanical for species in self.whole.kinds} - {species.botanical for species in self.kinds}
        return finding.where not in elsewhere
