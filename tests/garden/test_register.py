"""The register of advice: each thing said once, alike findings as one line, remedies that truly mend."""

from pathlib import Path

import pytest

from gardenkit.findings import ORDER, Finding, GardenError, Remedy, Step
from gardenkit.garden import Garden, register
from gardenkit.garden.gathered import gathered
from gardenkit.project import edits
from gardenkit.project.edits import planting, structure
from gardenkit.site.country import country_of, in_usa

CLOSE = ("crowding", "setback neighbours")
EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.name for path in EXAMPLES.iterdir() if (path / "garden.json").exists())


@pytest.fixture(scope="module", params=NAMES)
def garden(request: pytest.FixtureRequest) -> Garden:
    return Garden.open(EXAMPLES / request.param)


@pytest.fixture(scope="module")
def corner() -> Garden:
    return Garden.open(EXAMPLES / "fennel_street_corner")


def test_every_finding_is_in_one_line_and_only_one(garden: Garden):
    inside = [member for line in garden.advice for member in (line.members or (line,))]
    said = [(one.where, one.what) for one in inside]
    assert len(said) == len(set(said))
    on_card = register.ON_THE_CARD
    asked = {(f.where, f.what) for f in register.findings(garden) if f.topic not in on_card}
    assert asked <= set(said)


def test_checks_speak_only_of_the_topics_they_name(garden: Garden):
    spoken = [(check.topics, {finding.topic for finding in check.of(garden)}) for check in register.CHECKS]
    assert all(topics <= named for named, topics in spoken)


# What the pages of the site, of layers and of quantities ask for.
@pytest.mark.parametrize(
    "topics",
    [("site", "safety"), ("survey", "levels"), ("soil",), ("hardiness", "frost", "water"), ("layering", "bloom")],
)
def test_a_share_asked_for_alone_is_the_share_of_all_advice(garden: Garden, topics: tuple[str, ...]):
    alone = Garden(garden.project, garden.folder)
    assert alone.advice_about(topics) == register.share(garden.advice, topics)


def test_advice_is_worst_first(garden: Garden):
    grades = [ORDER.index(line.seriousness) for line in garden.advice]
    assert grades == sorted(grades)


def test_site_safety_is_one_card_and_811_is_said_only_in_the_usa(garden: Garden):
    cards = [line for line in garden.advice if line.topic == "safety"]
    elsewhere = [line for line in garden.advice if line.topic != "safety"]
    assert len(cards) == 1
    assert ("811" in cards[0].why) == bool(in_usa(garden.project.site))
    assert not any("811" in line.what + line.why for line in elsewhere)
    assert not any("811" in word for phase in garden.phases for word in phase.cautions) or in_usa(garden.project.site)


# IANA zone.tab, release 2024a: the zones as the database assigns them
@pytest.mark.parametrize(
    ("zone", "country"),
    [
        ("America/New_York", "US"),
        ("Pacific/Honolulu", "US"),
        ("America/Toronto", "CA"),
        ("America/Tijuana", "MX"),
        ("Pacific/Auckland", "NZ"),
        ("Europe/London", "GB"),
        ("UTC", None),
    ],
)
def test_a_time_zone_tells_the_country(zone: str, country: str | None):
    assert country_of(zone) == country


def test_five_alike_are_one_line_with_the_names():
    near = [
        Finding(
            where=f"plant {n}",
            what=f"stands {n / 10} m from house",
            alike="stand near to house",
            subject=("plant", str(n)),
            at=(float(n), 0.0),
            beside="house",
            topic="setback",
        )
        for n in range(1, 6)
    ]
    other = Finding(where="gate", what="is narrow")
    keys = {"1": "SAR", "2": "SAR", "3": "BUX", "4": "PAE", "5": "ILE"}
    line, alone = gathered([*near, other], lambda subject: keys[subject[1]])
    assert line.what == "5 plants stand near to house: SAR (2), BUX, PAE, ILE"
    assert line.where == "house"
    assert line.spots == tuple((float(n), 0.0) for n in range(1, 6))
    assert alone == other


def test_every_remedy_is_an_edit_that_exists_and_leaves_the_finding_behind(garden: Garden):
    """A remedy taken must make its own finding go away: worked out by the checks again, not by the remedy."""
    for line in garden.advice:
        for one in [found for found in line.members or (line,) if found.remedy is not None][:2]:
            after = Garden(edits.apply(garden.project, one.remedy), garden.folder)
            left = {(f.where, f.rule, f.beside) for f in register.findings(after, (one.topic,))}
            assert (one.where, one.rule, one.beside) not in left, one


def test_plants_too_close_are_thinned_until_none_is(garden: Garden):
    herb = next(p.number for p, kind in garden.planted if kind.layer == "perennial")
    crowded = Garden(planting.multiply_plant(garden.project, herb, 4, spacing=0.08), garden.folder)
    lines = [line for line in crowded.advice_about(("setback", "crowding")) if line.rule in CLOSE]
    assert lines
    for line in lines:
        assert line.remedy is not None
        assert {step.arguments[0][1] for step in line.remedy.steps} <= crowded.to_thin
    after = Garden(planting.remove_plants(crowded.project, crowded.to_thin), garden.folder)
    assert [f for f in register.findings(after, ("setback", "crowding")) if f.rule in CLOSE] == []
    assert {kind.botanical for kind in after.kinds} == {kind.botanical for kind in garden.kinds}


def test_what_is_locked_is_never_thinned(corner: Garden):
    locked = planting.lock_plants(corner.project, [p.number for p in corner.project.planting.plants])
    assert Garden(locked, corner.folder).to_thin == frozenset()


def test_a_path_too_narrow_for_its_use_is_widened_to_what_the_rule_asks(corner: Garden):
    name = corner.project.structure.paths[0].name
    narrow = Garden(
        structure.change_path(corner.project, name, use="two abreast", width=0.9, surface="gravel"), corner.folder
    )
    found = next(f for f in narrow.advice if f.rule == "path width")
    assert found.remedy is not None
    after = Garden(edits.apply(narrow.project, found.remedy), corner.folder)
    assert all(f.rule != "path width" for f in after.advice)
    # two abreast: 48 in by the table of widths in structure.path_rules, which names its source
    assert next(p.width for p in after.project.structure.paths if p.name == name) == pytest.approx(
        48 * 0.0254, abs=2e-3
    )


def test_an_edit_that_does_not_exist_is_one_sentence(corner: Garden):
    for edit in ("structure.no_such", "cellar.dig", "structure._sound", "structure.Path.nothing"):
        remedy = Remedy(words="try", steps=(Step(edit=edit, arguments=()),))
        with pytest.raises(GardenError, match="there is no"):
            edits.apply(corner.project, remedy)


def test_advice_can_be_kept_as_a_key(corner: Garden):
    assert len(set(corner.advice)) == len(corner.advice)
