"""No foreign unit and no other country's rules, on any page of the workbook and in any document of a garden."""

import re
from collections.abc import Callable, Iterable
from pathlib import Path

import attrs
import pytest
import words_shown

from gardenkit.garden import Garden
from gardenkit.handover.contents import contents
from gardenkit.notebook.session import Session
from gardenkit.notebook.workbook import PAGES, page
from gardenkit.project import Project
from gardenkit.project.edits import handover
from gardenkit.site.country import country_of
from gardenkit.site.place import Place

PLACES = {"fennel_street_corner": "imperial", "lantern_lane_strip": "metric"}  # the second lies in the south
SPECIAL_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " "})
FOREIGN = {
    "imperial": re.compile(
        r"(?:\d|[½¼¾⅛⅜⅝⅞]) ?(?:m|cm|mm|m2|m²|m3|m³|kg|[Ll]|km|km/h|m/s|ha|°C)(?![\w'’²³/])"
        r"|\b(?:metres?|(?:centi|milli)met(?:re|er)s?|(?:cubic|square) meters?|lit(?:re|er)s?|kilograms?|kg|cm|mm)\b"
        r"|\bm[²³]|°C|\((?:m|L|l)\)|, m$"
    ),
    "metric": re.compile(
        r"(?:\d|[½¼¾⅛⅜⅝⅞]) ?(?:ft|feet|foot|sq ft|cu yd|cu ft|gal|gallons?|lbs?|mph|acres?|°F|F|oz|yd)(?!\w)"
        r"|(?:\d|[½¼¾⅛⅜⅝⅞]) in(?!\w| (?:[A-Z]|(?:an?|the|all|this|each|every|one|its|their|\d+|\w+ bed)\b))"
        r"|\d' ?\d|\d\.\d+\"|(?:^|\s)\d+[½¼¾⅛⅜⅝⅞]?\""  # not: the rule "10-20-30"
        r"|\b(?:feet|ft|inch(?:es)?|gallons?|gal|cu yd|(?:cubic|square) (?:yards?|feet|foot)|sq ft|pounds?|lbs?|mph)\b"
        r"|°F|\bUS tons?\b"
    ),
}
USA = re.compile(
    r"(?<![\d.])811\b|\b(?:ANSI|ASABE|IRC|IBC|ADA|NIOSH|OSHA|CFR|USDA|USA|NFPA|ASTM)\b|extension office"
    r"|#(?:SP4|1|2|3|5|7|10|15|25)(?!\w)|\d in cal\.|B&B"
)
OURS = re.compile(r"\bhouse values?\b", re.I)  # said to people as "our default (confirm)"
# What may stay, and why.
EXCEPTIONS = (
    (re.compile(r"^[\d./' ,\"inftcm]+, or [\d., m]+$"), "a field's own hint: it is typed in either unit"),
    (re.compile(r"^(?:tenths of )?°[CF] and (?:inches|mm|of mm)$"), "a choice: in which units a table of weather is"),
    (re.compile(r"^°[CF]$"), "a choice: in which unit readings are typed"),
    (
        re.compile(r"USDA (?:PLANTS|Forest Service, A Management|Soil Survey Manual)"),
        "the title of a source, as printed",
    ),
)


@pytest.fixture(scope="module", params=PLACES)
def session(request: pytest.FixtureRequest, changed_example: Callable[..., Session]) -> Session:
    return changed_example(request.param, "one of each kind, for the same words sooner", one_of_each)


def one_of_each(project: Project) -> Project:
    first = {plant.species: plant for plant in reversed(project.planting.plants)}
    return attrs.evolve(project, planting=attrs.evolve(project.planting, plants=tuple(first.values())[::-1]))


@pytest.fixture(scope="module")
def abroad(changed_example: Callable[..., Session]) -> Session:
    """The first example with a few of its plants, moved to London: feet and inches, and none of the USA's rules."""
    return changed_example("fennel_street_corner", "move to London", moved_abroad)


def moved_abroad(project: Project) -> Project:
    planting = attrs.evolve(project.planting, plants=project.planting.plants[:3])
    place = Place(name="London (invented)", latitude=51.5, longitude=-0.1, timezone="Europe/London")
    climate = attrs.evolve(project.site.climate, zone_source="as read by the designer")
    site = attrs.evolve(project.site, place=place, climate=climate)
    return attrs.evolve(project, planting=planting, site=site)


def out_of_place(shown: Iterable[tuple[str, str]], garden: Garden) -> list[tuple[str, str]]:
    """Return (where, text) of every text that speaks foreign units, or of house values, or outside the USA of what is
    true there alone.
    """
    found, zone = [], garden.project.site.place.timezone
    for where, text in dict.fromkeys(shown):
        plain = text.translate(SPECIAL_SPACES)
        for allowed, _ in EXCEPTIONS:
            plain = allowed.sub("", plain)
        if (
            OURS.search(plain)
            or FOREIGN[garden.units].search(plain)
            or (country_of(zone) != "US" and USA.search(plain))
        ):
            found.append((where, text))
    return found


@pytest.mark.parametrize("name", PAGES)
def test_a_page_speaks_the_gardens_units_and_of_its_place(session: Session, name: str) -> None:
    shown = page(session, name)
    assert not shown.failures
    said = [(name, one.text) for one in words_shown.on_page(shown, name)]
    assert len(said) > 15
    assert not out_of_place(said, session.garden)


def test_documents_speak_the_gardens_units_and_of_its_place(session: Session, tmp_path: Path) -> None:
    told = contents(session.garden, with_sun=False)
    said = [(one.where, one.text) for one in words_shown.in_documents(told, tmp_path)]
    assert len({where for where, _ in said}) > 10
    assert not out_of_place(said, session.garden)


@pytest.mark.parametrize("name", ["climate", "climbs", "structure", "supports", "soil", "survey", "care"])
def test_a_page_abroad_names_no_rule_of_the_usa(abroad: Session, name: str) -> None:
    shown = page(abroad, name)
    assert not shown.failures
    assert not out_of_place([(name, one.text) for one in words_shown.on_page(shown, name)], abroad.garden)


def test_documents_abroad_name_no_rule_of_the_usa(abroad: Session, tmp_path: Path) -> None:
    for line in abroad.garden.open_warnings:  # a garden moved so far flowers in other months than its brief asks
        abroad.edit(
            "accepted", lambda p, line=line: handover.accept(p, where=line.where, what=line.what, reason="moved abroad")
        )
    told = contents(abroad.garden, with_sun=False)
    assert not out_of_place([(s.where, s.text) for s in words_shown.in_documents(told, tmp_path)], abroad.garden)


def test_what_is_known_of_a_plant_is_told_in_the_gardens_units(session: Session) -> None:
    shown = page(session, "plants")
    wrong = []
    for name in sorted({plant.species for plant in session.project.planting.plants}):
        shown.finder.pick.bar.options = [(name, name)]
        shown.finder.pick.bar.value = name
        shown.show_chosen()
        said = [(name, one.text) for one in words_shown.on_page(shown, name)]
        assert any(text == "Beware" for _, text in said)
        wrong += out_of_place(said, session.garden)
    assert not shown.failures
    assert not dict.fromkeys(wrong)


def test_the_walk_sees_what_is_wrong(session: Session) -> None:
    imperial = session.garden.units == "imperial"
    wrong = (
        ["0.65 m from the house", "5 °C", "litres", "a foot (house value)"]
        if imperial
        else ["12 in tiers", "call 811", "5' 2\"", "IRC R1"]
    )
    right = ["gas meter", "3' 2½\""] if imperial else ["6 in January", "Sedum acre", "0.65 m", '"10-20-30";']
    garden = session.garden
    assert [text for _, text in out_of_place([("", text) for text in (*wrong, *right)], garden)] == wrong
