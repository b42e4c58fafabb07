"""Which plants suit a spot, and that every yes and no has its reason."""

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.suitability import Spot, refused_by, suits
from gardenkit.planting.sun_need import least_hours, sun_word

CATALOGUE = load_catalogue()
SALVIA = CATALOGUE["Salvia nemorosa"]
SPOT = Spot(sun_hours_now=8, sun_hours_year10=7, zone="6b", moisture="medium", ph=6.8, bed_depth=2, height_limit=2)


def against(spot: Spot) -> tuple[str, list[str]]:
    found = suits(SALVIA, spot)
    return found.verdict, [reason.topic for reason in found.against]


def test_a_sunny_spot_suits_salvia_with_a_reason_for_each_side() -> None:
    found = suits(SALVIA, SPOT)
    assert (found.verdict, found.score) == ("yes", 1.0)
    assert {reason.topic for reason in found.reasons} == {"sun", "sun later", "winter", "moisture", "soil", "room"}
    assert all(reason.text for reason in found.reasons)


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"sun_hours_now": 1.0}, ("no", ["sun"])),
        ({"sun_hours_year10": 1.0}, ("maybe", ["sun later"])),
        ({"zone": "2"}, ("no", ["winter"])),
        ({"moisture": "wet"}, ("no", ["moisture"])),
        ({"ph": 4.0}, ("no", ["soil"])),
        ({"height_limit": 0.2}, ("no", ["room"])),
        ({"bed_depth": 0.2}, ("no", ["room"])),
        ({"layers": ("tree",)}, ("no", ["layer"])),
        ({"sun_hours_now": None}, ("maybe", [])),
        ({"zone": None}, ("maybe", [])),
        ({"ph": None}, ("yes", [])),
    ],
)
def test_each_side_can_decide(change: dict[str, object], expected: tuple[str, list[str]]) -> None:
    assert against(attrs.evolve(SPOT, **change)) == expected


def test_refused_toxicity_rules_out_every_plant_listed_for_it() -> None:
    spot = Spot(refuses=("toxic to dogs",))
    listed = [p for p in CATALOGUE if "dogs" in p.toxic_to]
    assert len(listed) > 20
    assert {suits(p, spot).verdict for p in listed} == {"no"}


def test_not_listed_as_toxic_is_never_called_safe() -> None:
    for plant in CATALOGUE:
        for reason in suits(plant, Spot(refuses=("toxic to cats",))).reasons:
            if reason.topic == "refused":
                assert reason.ok is not True
                assert reason.ok is False or "does not mean safe" in reason.text


@pytest.mark.parametrize(
    ("word", "caution"),
    [
        ("thorns", "dense prickles"),
        ("spines", "strong thorns"),
        ("suckers", "suckers widely"),
        ("pollen", "pollen allergy"),
        ("skin irritation", "sap may blister skin"),
        ("self-sows", "seeds itself freely"),
        ("weak wood", "weak wood, breaks in ice"),
    ],
)
def test_refused_words_are_found_however_the_catalogue_puts_them(word: str, caution: str) -> None:
    assert refused_by(attrs.evolve(SALVIA, cautions=(caution,)), word) == f"caution: {caution}"


@pytest.mark.parametrize("caution", ["no thorns", "nearly thornless"])
def test_a_thornless_plant_is_not_refused_for_thorns(caution: str) -> None:
    assert refused_by(attrs.evolve(SALVIA, cautions=(caution,)), "thorns") == ""


def test_invasive_is_refused_anywhere_or_in_one_jurisdiction() -> None:
    listed = next(p for p in CATALOGUE if p.invasive)
    place = listed.invasive[0].jurisdiction
    assert refused_by(listed, "invasive").startswith("listed as invasive")
    assert refused_by(listed, f"invasive in {place}").startswith("listed as invasive")
    assert refused_by(listed, "invasive in Atlantis") == ""


def test_annuals_are_planted_each_year_so_cold_winters_do_not_rule_them_out() -> None:
    found = suits(CATALOGUE["Ageratum houstonianum"], Spot(zone="3", sun_hours_now=8))
    assert "winter" not in [reason.topic for reason in found.against]


def test_full_sun_is_six_hours_and_part_three_by_the_usual_set() -> None:
    """Nursery trade, plant labels."""
    assert [sun_word(h) for h in (6, 5.99, 3, 2.99)] == ["full", "part", "part", "shade"]
    full = next(p for p in CATALOGUE if p.sun_range == ("full",))
    assert (least_hours(full), least_hours(full, setting="LSU AgCenter")) == (6, 7)


def test_an_unknown_moisture_word_names_the_nearest() -> None:
    with pytest.raises(GardenError, match='nearest known is "moist"'):
        suits(SALVIA, Spot(moisture="moisty"))


def test_a_forest_tree_is_refused_a_shallow_bed_and_a_small_tree_is_not() -> None:
    catalogue = load_catalogue()
    shallow = Spot(sun_hours_now=8.0, zone="6a", bed_depth=3.0)
    tall = suits(catalogue["Quercus rubra"], shallow)
    assert tall.verdict == "no"
    assert any("a bed 3.0 m deep carries 12.0 m" in reason.text for reason in tall.against)
    assert suits(catalogue["Cercis canadensis"], shallow).verdict != "no"
