"""Nothing that cannot be gets into a garden: every value is in range, every sentence says what and where."""

import datetime as dt
import typing
from pathlib import Path

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit import project as projects
from gardenkit import storage
from gardenkit.brief.brief import Brief
from gardenkit.brief.style import Picture, Style
from gardenkit.brief.wants import Check, Want
from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.ranges import RANGES
from gardenkit.site import survey
from gardenkit.site.climate import Climate
from gardenkit.site.heights import SpotHeight
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Obstacle, Site
from gardenkit.site.sun_diary import Observation
from gardenkit.site.tracing import Underlay
from gardenkit.structure.structure import Bed, StoneChoice, Structure
from gardenkit.structure.structure import Path as GardenPath

NAN, ENDLESS = float("nan"), float("inf")
BOW_TIE = ((0.0, 0.0), (5.0, 5.0), (5.0, 0.0), (0.0, 5.0))


def site(**changes: object) -> Project:
    return Project(name="x", site=Site(**changes))


def tree(**changes: object) -> Project:
    return site(trees=(ExistingTree(**({"name": "oak", "at": (1.0, 1.0), "height": 9.0, "spread": 5.0} | changes)),))


def path(**changes: object) -> Project:
    walk = GardenPath(**({"name": "walk", "start": "a", "end": "b"} | changes))
    return Project(name="x", structure=Structure(paths=(walk,)))


def brief(**changes: object) -> Project:
    return Project(name="x", brief=Brief(**changes))


@pytest.mark.parametrize(
    ("project", "said"),
    [
        (site(survey=survey.Survey(declination=NAN)), r"declination of the survey is nan; give -180 to 180 degrees"),
        (
            site(survey=survey.Survey(measures=(survey.Tie(a="A", b="B", distance=ENDLESS),))),
            "the tie from A to B is inf",
        ),
        (
            site(
                heights=(
                    SpotHeight(name="A", at=(0.0, 0.0), height=1.2),
                    SpotHeight(name="B", at=(9.0, 0.0), height=-487.0),
                )
            ),
            'ground heights "B" and "A" differ by 488 m; 200 m are the most on one plan',
        ),
        (site(y_bearing=-ENDLESS), "y bearing of the site is -inf"),
        (tree(height=NAN), 'height of tree "oak" is nan; give 0 to 150 m'),
        (tree(light_bare=1.2), 'light bare of tree "oak" is 1.2; give 0 to 1$'),
        (tree(leaf_on=13), 'leaf on of tree "oak" is 13; give 1 to 12'),
        (tree(at=(NAN, 0.0)), 'at of tree "oak" is at nan m'),
        (
            Project(name="x", structure=Structure(cuts=(((1.0, 1.0),),))),
            "the line of a cut between beds has no length; give two different ends",
        ),
        (path(width=0.0), 'width of path "walk" is 0; give 0.05 to 50 m'),
        (path(sway=10**9), 'sway of path "walk" is'),
        (path(sway=2.5), "give a whole number"),
        (path(stones=StoneChoice(pace=NAN)), 'pace of path "walk", the stones is nan'),
        (path(stones=StoneChoice(gap_low=0.3)), 'the gaps of path "walk", the stones run from 0.3 to 0.2032 m'),
        (path(name="walk\x07"), r'name of path "walk" holds a sign that cannot be shown \(U\+0007 after "walk"\)'),
        (path(name="w\u202ealk"), r"U\+202E"),
        (path(name="w\nalk"), r"U\+000A"),
        (path(name="w" * 201), "has 201 letters; 200 are the most"),
        (path(name="garden \ud800"), r"U\+D800"),
        (
            brief(wants=(Want(text="a seat", area="x" * 201),)),
            'area of want "a seat" has 201 letters; 200 are the most',
        ),
        (brief(style=Style(colours=("red",))), 'the colour "red" of the style is none; give it like #3a7f2c'),
        (brief(style=Style(colours=("url(//x.example/a)",))), "is none; give it like"),
        (brief(style=Style(colours=("#12345",))), "is none"),
        (brief(style=Style(formal=1.5)), "formal of the style is 1.5; give 0 to 1"),
        (brief(budget=NAN), "budget of the brief is nan"),
        (
            brief(wants=(Want(text="a seat", check=Check(fact="seets")),)),
            'cannot be checked by "seets"; the nearest known',
        ),
        (site(place=Place(timezone="Mars/Base")), '"Mars/Base" is not a known time zone'),
        (brief(pictures=(Picture(file="../../etc/passwd"),)), "no plain file name; put it into the pictures folder"),
        (brief(pictures=(Picture(file="C:\\x.jpg"),)), "no plain file name"),
        (brief(pictures=(Picture(file="NUL.jpg"),)), "no plain file name"),
        (brief(style=Style(materials_most=10**400)), "is a number of very many digits; give 0 to 20"),
        (
            site(underlay=Underlay(picture="/x", pixel_a=(0, 0), pixel_b=(1, 1), plan_a=(0, 0), plan_b=(1, 1))),
            "no plain file name",
        ),
        (site(boundary=BOW_TIE), "the boundary crosses or touches itself"),
        (site(buildings=(Building(name="house", outline=BOW_TIE),)), 'the outline of building "house" crosses'),
        (site(obstacles=(Obstacle(name="rock", outline=((0.0, 0.0), (1.0, 0.0))),)), 'obstacle "rock" has 2 corners'),
        (site(boundary=((0.0, 0.0), (9000.0, 0.0), (0.0, 5.0))), "is at 9,000 m; give a place within 3,000 m"),
        (site(boundary=((-2000.0, 0.0), (2500.0, 0.0), (0.0, 5.0))), "boundary of the site is 4,500 m long"),
        (
            Project(name="x", structure=Structure(beds=(Bed(name="S", at=(1.0, 1.0), outline=BOW_TIE),))),
            'the outline of bed "S" crosses',
        ),
        (site(climate=Climate(rain=(1.0,) * 11 + (-1.0,))), "rain of the climate is -1; give 0 to 10,000 mm a month"),
        (
            site(
                diary=(
                    Observation(at=(0.0, 0.0), date=dt.date(202, 5, 1), start=dt.time(9), end=dt.time(10), sunny=True),
                )
            ),
            "date of the sun diary is 0202-05-01; give a year 1900 to 2200",
        ),
        (
            Project(name="x", planting=Planting(plants=(Plant(number=7, species="Salvia", at=(0.0, 0.0), year=900),))),
            r"year of plant 7 \(Salvia\) is 900",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(project: Project, said: str, tmp_path: Path) -> None:
    with pytest.raises(GardenError, match=said) as caught:
        projects.check(project)
    assert "\n" not in str(caught.value)
    storage.create(tmp_path, Project(name="sound"))
    with pytest.raises(GardenError):
        storage.edit(tmp_path, "harm", lambda _: project)
    assert storage.load(tmp_path).project == Project(name="sound")


@pytest.mark.parametrize("folder", gardens.examples(), ids=lambda folder: folder.name)
def test_the_examples_are_sound(folder: Path) -> None:
    projects.check(storage.load(folder).project)


@given(st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp", "Cf")), max_size=150))
def test_any_words_that_can_be_shown_are_taken(name: str) -> None:
    projects.check(Project(name=name, brief=Brief(style=Style(name=name))))


@pytest.mark.parametrize("name", ["Ærø", "庭園", "حديقة", "नमस्ते", "👩‍🌾 garden", "<b>&amp;</b>", "'; DROP TABLE"])
def test_words_of_every_script_are_taken(name: str) -> None:
    projects.check(Project(name=name))


def test_a_note_may_have_lines_and_a_name_may_not() -> None:
    projects.check(
        Project(name="x", planting=Planting(plants=(Plant(number=1, species="S", at=(0.0, 0.0), note="a\nb\tc"),)))
    )
    with pytest.raises(GardenError, match="cannot be shown"):
        projects.check(Project(name="a\nb"))


@pytest.mark.parametrize("kind", RANGES, ids=lambda kind: kind.__name__)
def test_every_range_stands_for_a_number_that_is_there(kind: type) -> None:
    attrs.resolve_types(kind)
    fields = {field.name: field.type for field in attrs.fields(kind)}
    for name in RANGES[kind]:
        assert {float, int} & {fields[name], *_flat(fields[name])}, name


def _flat(kind: object) -> set[object]:
    inner = typing.get_args(kind)
    return {kind}.union(*(_flat(part) for part in inner)) if inner else {kind}


def test_a_record_found_sound_is_not_taken_for_another() -> None:
    for height in (1.0, NAN, 2.0, NAN):
        garden = tree(height=height)
        if height != height:
            with pytest.raises(GardenError, match="is nan"):
                projects.check(garden)
        else:
            projects.check(garden)
        del garden
