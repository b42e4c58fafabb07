"""The plant tables held against open lists of names, poisons, invasive plants and traits, where these are at hand."""

import csv
import math
import re
from collections.abc import Iterator
from difflib import SequenceMatcher
from functools import cache
from pathlib import Path

from gardenkit.planting.catalogue import Species, caution_text, load_catalogue
from gardenkit.planting.species import months_from_to

SHARED = Path(__file__).parents[3] / "shared" / "data"  # open lists beside the project, never part of it
FOOT = 0.3048  # m, exact
Row = dict[str, str]

# -- what the lists print otherwise than we do --

OLD_NAMES = {  # as the list prints it: the name we use
    "Corydalis lutea": "Pseudofumaria lutea",
    "Thuja orientalis": "Platycladus orientalis",
    "Salvia nemorsa": "Salvia nemorosa",
    "Sambucus nigra ssp. canadensis": "Sambucus canadensis",
    "Rosmarinus officinalis": "Salvia rosmarinus",
    "Polygonum cuspidatum": "Reynoutria japonica",
}
NAMES_NEAR_A_LISTED_ONE = {  # same genus, nearly the same epithet, and yet right
    "Hemerocallis lilioasphodelus": "the list writes lilio-asphodelus; the code of nomenclature writes it as one word",
    "Magnolia × soulangeana": "the list writes soulangiana; the plant is named for Soulange-Bodin",
    "Prunus × subhirtella": "the list leaves out the hybrid sign",
    "Prunus × yedoensis": "the list leaves out the hybrid sign",
    "Platanus × acerifolia": "the list leaves out the hybrid sign",
    "Salvia × sylvestris": "the garden hybrid; the list leaves out the hybrid sign",
    "Brassica oleracea": "the list writes oleraceae; Linnaeus wrote oleracea",
}
NOT_AS_TOXIC_AS_LISTED = {  # a strong entry we do not follow
    "Cornus sericea": "the entry 'very strong toxic (cat)' looks like a slip of the list: no other source bears it out",
    "Cornus sericea 'Flaviramea'": "as Cornus sericea",
}
GENUS_NOT_AS_TOXIC = {  # the only listed species of the genus is strongly toxic, ours is not
    "Cornus": "the one entry, Cornus sericea for cats, looks like a slip of the list",
    "Ipomoea": "the one entry is Ipomoea tricolor for its seeds; ours is the sweet potato",
}
NOT_NATIVE = {
    "Viburnum opulus": "PLANTS counts the American Viburnum trilobum to it; the European plant is in the trade"
}
PLANTS_DISAGREES = {  # plant and trait: why our value stands
    ("Bouteloua curtipendula", "bloom"): "a warm-season grass: it flowers from July, not in spring",
    ("Eragrostis spectabilis", "bloom"): "a warm-season grass: it flowers from August, not in spring",
    ("Eragrostis spectabilis", "zone"): "-43 F is colder than the edge of its wild range",
    ("Sorghastrum nutans", "bloom"): "a warm-season grass: it flowers from August, not in spring",
    ("Cornus canadensis", "zone"): "-28 F; it grows wild to Alaska and Labrador",
    ("Cornus canadensis", "leaf"): "its leaves wither in a zone 6 winter without snow",
    ("Echinacea purpurea", "height"): "1.2 ft is the leaves without the flower stems",
    ("Echinacea pallida", "height"): "1.2 ft is the leaves without the flower stems",
    ("Coreopsis lanceolata", "zone"): "-8 F; it lives through zone 4 winters in the upper Midwest",
    ("Liatris spicata", "zone"): "-18 F; it is native and hardy north to Michigan and Ontario",
    ("Sisyrinchium angustifolium", "zone"): "-3 F; it is native and hardy north to Nova Scotia",
    ("Geum triflorum", "bloom"): "a spring flower; its seed plumes last into summer",
    ("Lobelia cardinalis", "height"): "6 ft is the tallest wild stem",
    ("Oenothera fruticosa", "height"): "3.3 ft is the tallest wild stem",
    ("Packera aurea", "height"): "3.9 ft is the tallest wild stem",
    ("Phlox divaricata", "height"): "3 ft is three times what stands in gardens",
    ("Phlox divaricata", "bloom"): "a woodland flower of April and May",
    ("Solidago caesia", "bloom"): "a goldenrod: it flowers from August",
    ("Viola sororia", "height"): "0.3 ft is the leaves of young plants",
    ("Aronia melanocarpa", "zone"): "24 F is a fault of the table: it is native to Minnesota",
    ("Cephalanthus occidentalis", "height"): "15 ft is the wild swamp shrub; garden plants are cut back",
    ("Mahonia aquifolium", "height"): "8 ft is the tallest wild shrub",
    ("Mahonia aquifolium", "zone"): "-43 F; its leaves burn below zone 5",
    ("Rosa carolina", "height"): "5 ft is the tallest wild shrub",
    ("Rosa carolina", "zone"): "-43 F is colder than the edge of its wild range",
    ("Salix discolor", "height"): "40 ft is the tallest wild tree; in gardens a shrub cut back for its catkins",
    ("Vaccinium vitis-idaea", "zone"): "-62 F is below the coldest zone there is",
    ("Nyssa sylvatica", "height"): "95 ft is a forest tree",
    ("Viburnum opulus", "height"): "6 ft is a young shrub",
    ("Campsis radicans", "height"): "2 ft is the vine without a support",
    ("Parthenocissus quinquefolia", "height"): "1 ft is the vine without a support",
    ("Apios americana", "height"): "1 ft is the vine without a support",
    ("Wisteria frutescens", "height"): "50 ft is the longest wild vine; garden plants are pruned to a support",
    ("Aesculus glabra", "height"): "68 ft is a forest tree",
    ("Vitis riparia", "height"): "45 ft is the longest wild vine",
    ("Picea glauca", "height"): "100 ft is a forest tree",
    ("Picea glauca", "zone"): "-65 F is below the coldest zone of the scale in gardens",
    ("Pinus strobus", "height"): "150 ft is a forest tree",
    ("Larix laricina", "zone"): "-79 F is below the coldest zone there is",
    ("Vaccinium angustifolium", "height"): "2 ft is the tallest of a plant mown or burnt low",
    ("Rudbeckia hirta", "height"): "1 ft is the leaves without the flower stems",
    ("Eurybia macrophylla", "height"): "4.6 ft is the tallest wild stem",
    ("Geum rivale", "height"): "3 ft is the tallest wild stem",
    ("Viburnum lentago", "height"): "28 ft is the tallest wild tree",
    ("Viburnum nudum", "height"): "15 ft is the tallest wild shrub",
    ("Viburnum nudum", "zone"): "-33 F is of its northern form, Viburnum cassinoides",
    ("Shepherdia argentea", "height"): "18 ft is the tallest wild shrub",
    ("Quercus bicolor", "height"): "100 ft is a forest tree",
    ("Fagus grandifolia", "zone"): "-44 F is colder than the edge of its wild range",
    ("Betula papyrifera", "zone"): "-62 F is below the coldest zone of gardens",
    ("Ulmus americana", "height"): "120 ft is a forest tree",
    ("Sorbus americana", "height"): "40 ft is the tallest wild tree",
    ("Solidago flexicaulis", "zone"): "-18 F; it is native and hardy north to Quebec and Manitoba",
    ("Iris virginica", "zone"): "12 F is of the coast; inland it is native north to Minnesota",
    ("Salvia azurea", "bloom"): "a late sage: it flowers from August, not in spring",
    ("Salvia azurea", "zone"): "-32 F is the northern edge of its wild range; short-lived north of zone 5",
}
SEASONS = {  # PLANTS words as months of zone 6 (house value)
    "Late Winter": (2, 3),
    "Early Spring": (3, 4),
    "Mid Spring": (4, 5),
    "Spring": (3, 6),
    "Late Spring": (5, 6),
    "Early Summer": (6, 7),
    "Mid Summer": (7, 7),
    "Summer": (6, 9),
    "Late Summer": (8, 9),
    "Fall": (9, 11),
    "Winter": (12, 2),
}

# -- reading the lists --


@cache
def table(name: str) -> tuple[Row, ...]:
    with (SHARED / f"{name}.csv").open(encoding="utf-8", newline="") as page:
        return tuple(csv.DictReader(page))


@cache
def corrected() -> dict[str, str]:
    return {row["as_found"]: row["correct"] for row in table("plant_name_misspellings")} | OLD_NAMES


def binomial(name: str) -> str:
    """The species a name belongs to: no cultivar, Group or subspecies, spelled right, under the name we use."""
    plain = re.sub(r" ('|[A-Z][a-z]+ Group|subsp\.|ssp\.|var\.|f\.).*$", "", name)
    return corrected().get(name, corrected().get(plain, plain))


def ours() -> Iterator[tuple[str, Species]]:
    for plant in load_catalogue():
        if " " in binomial(plant.botanical):
            yield binomial(plant.botanical), plant


@cache
def listed(name: str) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in table(name):
        found.setdefault(binomial(row["botanical"]), []).append(row)
    return found


def strong(row: Row) -> bool:
    return "strong" in row["human_toxicity"] + row["animal_toxicity"] and "only wild" not in row["human_toxicity"]


def toxic_at_all(row: Row) -> bool:
    return bool(row["animal_toxicity"]) or row["human_toxicity"] not in ("nontoxic", "unknown", "infested plants only")


def zone_of(fahrenheit: float) -> int:
    """The hardiness zone of a lowest temperature: 10 F a zone, zone 1 below -50 F."""
    return math.floor((fahrenheit + 60) / 10) + 1


def disagreements(plant: Species, row: Row) -> Iterator[str]:
    """The traits in which plant and PLANTS differ by more than planting.md (f) allows: overlap, not equality."""
    if not 0.6 <= plant.height / (float(row["height_mature_ft"] or "nan") * FOOT) <= 1.6:
        yield "height"
    if row["temp_min_F"] and plant.layer != "annual" and abs(zone_of(float(row["temp_min_F"])) - plant.zone_min) > 1:
        yield "zone"
    if row["ph_min"] and (plant.ph_max < float(row["ph_min"]) or plant.ph_min > float(row["ph_max"])):
        yield "ph"
    if plant.bloom_months and row["bloom_period"] in SEASONS:
        first, last = SEASONS[row["bloom_period"]]
        if not set(plant.bloom_months) & set(months_from_to((first - 2) % 12 + 1, last % 12 + 1)):
            yield "bloom"
    if row["evergreen_leaf_retention"] == "Yes" and plant.leaf in ("deciduous", "herbaceous"):
        yield "leaf"


def bloom_in_switzerland(row: Row) -> set[int]:
    """The months of ``Jun.-Aug.`` or ``May``."""
    names = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    found = [names.index(name) + 1 for name in re.findall(r"[A-Z][a-z]{2}", row["bloom_switzerland"])]
    return set(months_from_to(found[0], found[-1])) if found else set()


class TestAgainstOpenLists:
    """Not collected where the lists are absent."""

    __test__ = SHARED.is_dir()

    def test_half_of_our_species_stand_in_an_open_list_letter_by_letter(self) -> None:
        species = {name for name, _ in ours()}
        known = set(listed("plant_names")) | set(listed("usda_plants_characteristics"))
        assert len(species & known) >= len(species) / 2

    def test_no_name_is_one_or_two_letters_off_a_listed_one(self) -> None:
        known: dict[str, set[str]] = {}
        for name in listed("plant_names"):
            known.setdefault(name.split()[0], set()).add(name)
        near = {
            name
            for name, _ in ours()
            for other in known.get(name.split()[0], set())
            if name not in known[name.split()[0]] and SequenceMatcher(None, name, other).ratio() > 0.93
        }
        assert near == set(NAMES_NEAR_A_LISTED_ONE) & {name for name, _ in ours()}

    def test_no_known_misspelling_is_used(self) -> None:
        wrong = {row["as_found"] for row in table("plant_name_misspellings")}
        assert not [p.botanical for p in load_catalogue() if any(p.botanical.startswith(name) for name in wrong)]

    def test_a_strongly_toxic_species_is_never_called_mild_or_left_out(self) -> None:
        missed = {
            plant.botanical
            for name, plant in ours()
            for row in listed("toxic_plants_tppt").get(name, ())
            if strong(row) and plant.toxicity not in ("moderate", "severe")
        }
        assert missed == set(NOT_AS_TOXIC_AS_LISTED)

    def test_every_species_listed_as_toxic_in_any_way_says_for_whom(self) -> None:
        rows = [(plant, row) for name, plant in ours() for row in listed("toxic_plants_tppt").get(name, ())]
        assert len(rows) > 100  # the test looks at something
        assert not [plant.botanical for plant, row in rows if toxic_at_all(row) and not plant.toxic_to]

    def test_lilies_are_severe_for_cats(self) -> None:
        cats = {name for name, rows in listed("toxic_plants_tppt").items() if "(cat)" in rows[0]["animal_toxicity"]}
        assert "Lilium martagon" in cats
        for plant in load_catalogue():
            if plant.genus in ("Lilium", "Hemerocallis"):
                assert ("cats" in plant.toxic_to, plant.toxicity) == (True, "severe"), plant.botanical

    def test_plants_of_a_genus_that_is_strongly_toxic_throughout_are_never_called_mild_or_left_out(self) -> None:
        genera: dict[str, list[Row]] = {}
        for name, rows in listed("toxic_plants_tppt").items():
            genera.setdefault(name.removeprefix("× ").split()[0], []).extend(rows)
        severe = {genus for genus, rows in genera.items() if all(strong(row) for row in rows)}
        missed = {p.genus for p in load_catalogue() if p.genus in severe and p.toxicity not in ("moderate", "severe")}
        assert missed == set(GENUS_NOT_AS_TOXIC)

    def test_every_match_with_an_invasive_list_is_told_with_its_jurisdiction(self) -> None:
        matches = [(plant, row) for name, plant in ours() for row in listed("invasive_lists").get(name, ())]
        assert len(matches) > 20  # the test looks at something
        for plant, row in matches:
            assert row["jurisdiction"] in {entry.jurisdiction for entry in plant.invasive}, (plant.botanical, row)
            assert row["jurisdiction"] in caution_text(plant)

    def test_no_invasive_entry_of_a_list_at_hand_is_made_up(self) -> None:
        for name, plant in ours():
            listed_in = {(row["jurisdiction"], row["list"]) for row in listed("invasive_lists").get(name, ())}
            named = {(entry.jurisdiction, entry.list) for entry in plant.invasive}
            at_hand = {(row["jurisdiction"], row["list"]) for row in table("invasive_lists")}
            assert named & at_hand <= listed_in, plant.botanical

    def test_sizes_zones_soil_and_bloom_overlap_with_plants_but_for_the_explained(self) -> None:
        found = {
            (plant.botanical, trait)
            for plant in load_catalogue()
            for row in listed("usda_plants_characteristics").get(plant.botanical, ())
            for trait in disagreements(plant, row)
        }
        assert found == set(PLANTS_DISAGREES)

    def test_every_plant_of_the_native_list_is_native_but_for_the_explained(self) -> None:
        natives = [p for p in load_catalogue() if p.botanical in listed("usda_plants_characteristics")]
        assert len(natives) > 60  # the test looks at something
        assert {p.botanical for p in natives if not p.native_na} == set(NOT_NATIVE)

    def test_only_species_in_plants_claim_to_be_checked_against_it(self) -> None:
        for name, plant in ours():
            sources = (plant.size_source, plant.growing_source, plant.season_source)
            if any("PLANTS" in source for source in sources):
                assert name in listed("usda_plants_characteristics"), plant.botanical

    def test_bloom_said_to_agree_with_the_toxic_plant_list_shares_a_month_with_it(self) -> None:
        said = [(name, p) for name, p in ours() if "TPPT bloom months" in p.season_source]
        assert len(said) > 100  # the test looks at something
        for name, plant in said:
            rows = listed("toxic_plants_tppt").get(name) or listed("toxic_plants_tppt")[plant.binomial]
            assert set(plant.bloom_months) & bloom_in_switzerland(rows[0]), plant.botanical

    def test_toxicity_said_to_agree_with_the_toxic_plant_list_stands_in_it(self) -> None:
        for name, plant in ours():
            if "agrees with TPPT" in plant.caution_source:
                assert {name, plant.binomial} & set(listed("toxic_plants_tppt")), plant.botanical

    def test_a_plants_toxicity_word_is_never_dropped(self) -> None:
        for name, plant in ours():
            for row in listed("usda_plants_characteristics").get(name, ()):
                assert plant.toxic_to or row["toxicity"] in ("None", ""), plant.botanical
