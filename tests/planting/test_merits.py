"""What a plant brings: kinds that suit a spot alike are told apart, and what all share is said once."""

from collections import Counter

from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.merits import judged_alike, merits, rank, set_apart
from gardenkit.planting.suitability import Spot, suits

CATALOGUE = load_catalogue()
SPOT = Spot(sun_hours_now=9.0, zone="6", ph=6.3, bed_depth=2.7)
JUDGED = sorted((suits(kind, SPOT) for kind in CATALOGUE), key=rank)


def test_kinds_that_suit_alike_are_ranked_by_what_they_bring_and_not_by_the_alphabet() -> None:
    best = [j for j in JUDGED if j.verdict == "yes" and round(j.score, 2) == round(JUDGED[0].score, 2)]
    assert len(best) > 50  # so many suit the spot alike that their score cannot rank them
    brought = [sum(merits(j.species).values()) for j in best]
    assert brought == sorted(brought, reverse=True)
    assert brought[0] > 2 * brought[len(brought) // 2] > 0
    names = [j.species.botanical for j in best]
    assert names != sorted(names)


def test_a_better_verdict_or_score_comes_before_anything_a_plant_brings() -> None:
    keys = [(j.verdict != "yes", j.verdict == "no", -round(j.score, 2)) for j in JUDGED]
    assert keys == sorted(keys)


def test_what_sets_a_plant_apart_is_its_own_and_the_rarest_comes_first() -> None:
    kinds = [j.species for j in JUDGED[:30]]
    apart = set_apart(kinds)
    times = Counter(word for words in set_apart(kinds).values() for word in words)
    assert all(count < len(kinds) for count in times.values())
    lily = CATALOGUE["Lilium regale"]
    assert "strong scent" in set_apart([lily, CATALOGUE["Geum rivale"]])[lily.botanical]
    assert "strong scent" not in set_apart([lily, CATALOGUE["Paeonia lactiflora 'Sarah Bernhardt'"]])[lily.botanical]
    assert sum(bool(words) for words in apart.values()) > 25


def test_what_all_share_is_said_once_and_nothing_against_a_plant_is_left_out() -> None:
    shown = [j for j in JUDGED if j.verdict == "yes"][:30]
    alike = judged_alike(shown)
    assert alike["winter"] is True  # every one of them is hardy in the zone
    assert alike["moisture"] is None  # nobody asked the ground's moisture
    mixed = judged_alike([JUDGED[0], JUDGED[-1]])
    assert not {r.topic for r in JUDGED[-1].against} & set(mixed)
    assert judged_alike(shown[:1]) == {}
