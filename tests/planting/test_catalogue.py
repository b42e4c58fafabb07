"""The plant tables hold only what their columns allow, and every plant is found by the names people use."""

import csv
import os
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import (
    CareTask,
    InvasiveListing,
    Species,
    alone_with,
    caution_text,
    load_catalogue,
    problems,
    shipped_rows,
    write_own,
)
from gardenkit.planting.catalogue_columns import BY_NAME, COLUMNS, LAYERS, name_key
from gardenkit.planting.own_plants import rows_of
from gardenkit.planting.species import NOT_LISTED, months_from_to, species_from_row

PLANTS = Path(__file__).parents[2] / "gardenkit" / "data" / "plants"
README = PLANTS.parent / "README.md"
KNOWN = "Crocus tommasinianus"  # a plant of the shipped bulbs table that the tests change


def row_of(botanical: str) -> dict[str, str]:
    return dict(next(row for row in shipped_rows() if row["botanical"] == botanical))


def first_problem(**cells: str) -> str:
    found = problems([{**row_of(KNOWN), **cells, "file": "own.csv"}])
    assert len(found) == 1, found
    return found[0]


# -- the shipped tables --


def test_every_shipped_row_holds_only_what_its_columns_allow() -> None:
    assert problems(shipped_rows()) == ()


def test_every_table_has_the_columns_of_the_readme_in_order() -> None:
    described = [
        name for line in README.read_text("utf-8").splitlines() if line.startswith("| `") for name in names(line)
    ]
    assert described == [column.name for column in COLUMNS]
    for table in PLANTS.glob("*.csv"):
        with table.open(encoding="utf-8", newline="") as page:
            assert next(csv.reader(page)) == described, table.name


def names(line: str) -> list[str]:
    return line.split("|")[1].replace("`", "").split()


def test_the_catalogue_holds_every_layer_and_enough_plants_to_choose_from() -> None:
    catalogue = load_catalogue()
    assert {plant.layer for plant in catalogue} == set(LAYERS)
    assert len(catalogue) >= 350


def test_a_genus_stands_in_one_family() -> None:
    families: dict[str, set[str]] = {}
    for kind in load_catalogue():
        families.setdefault(kind.botanical.replace("× ", "").split()[0], set()).add(kind.family)
    assert {genus: found for genus, found in families.items() if len(found) > 1} == {}


def test_no_cell_ends_in_a_blank_or_holds_a_curly_quote() -> None:
    for table in PLANTS.glob("*.csv"):
        text = table.read_text("utf-8")
        assert not {"‘", "’", "\t", "\ufeff"} & set(text), table.name
        with table.open(encoding="utf-8", newline="") as page:
            for row in csv.reader(page):
                assert all(cell == cell.strip() for cell in row), (table.name, row[0])


def test_columnar_plants_are_at_least_twice_as_tall_as_wide_and_spreading_ones_never_taller_than_a_third_more() -> None:
    # planting.md (c3) asks 3 for columnar and under 0.8 for spreading crowns; a usual range in a garden is looser
    for plant in load_catalogue():
        if plant.layer in ("tree", "conifer", "shrub") and plant.form == "columnar":
            assert plant.height >= 2 * plant.spread, plant.botanical
        if plant.layer in ("tree", "conifer", "shrub") and plant.form == "spreading":
            assert plant.height <= 4 / 3 * plant.spread, plant.botanical


def test_ten_year_heights_keep_within_the_growth_class() -> None:
    # planting.md (e1): slow up to 12 and medium up to 24 inches a year, here from 8 ft (a 1 in trunk) or 4 ft planted
    feet = {"slow": 10, "medium": 20, "fast": float("inf")}
    for plant in load_catalogue():
        if plant.layer in ("tree", "conifer", "shrub"):
            planted = 8 if plant.layer == "tree" else 4
            assert plant.height_10 <= (planted + feet[plant.growth]) * 0.3048, plant.botanical


def test_in_every_month_of_the_year_something_is_in_flower() -> None:
    catalogue = load_catalogue()
    assert [month for month in range(1, 13) if not any(month in plant.bloom_months for plant in catalogue)] == []


# -- one sentence for each bad cell --


def test_a_bad_word_is_named_with_file_plant_column_value_and_what_is_allowed() -> None:
    expected = 'own.csv, Crocus tommasinianus: sun_best is "sun"; give one of full, part, shade'
    assert first_problem(sun_best="sun") == expected


@pytest.mark.parametrize(
    ("column", "cell", "allowed"),
    [
        ("height_max_m", "900", "a number from 0.01 to 60"),
        ("height_max_m", "0.1 m", "a number from 0.01 to 60"),
        ("zone_min", "3.5", "a whole number from 1 to 11"),
        ("zone_min", "", "a whole number from 1 to 11"),
        ("ph_max", "12", "a number from 3.5 to 9"),
        ("bloom_start", "13", "a month from 1 to 12, or a half of it as 'early 5' or 'late 5', or leave it empty"),
        ("bloom_end", "mid 7", "a month from 1 to 12, or a half of it as 'early 5' or 'late 5'"),
        ("fruit_start", "13", "a whole number from 1 to 12, or leave it empty"),
        ("flower_colours", "purple", "colours as #rrggbb in lower case"),
        ("foliage_spring", "#ABCDEF", "a colour as #rrggbb in lower case"),
        ("wildlife", "bees,birds", "one or more of bees, butterflies"),
        ("care", "trim@3", "tasks as task@month"),
        ("care", "prune@13", "tasks as task@month"),
        ("invasive", "Massachusetts", "entries as JURISDICTION: list (status)"),
        ("botanical", "crocus Tommasinianus", "genus and species"),
        ("layer", "bulbs", "one of tree, conifer, climber"),
        ("sociability", "VI", "one or more of I, II, III, IV, V"),
        ("toxicity_by", "cats deadly", "entries as 'cats severe'"),
        ("invasive_in", "Oregon", "ISO codes of countries or states as US-MA or CH"),
        ("nursery_sizes", "2 gallon", "one or more of seed, bulb"),
    ],
)
def test_each_kind_of_cell_says_what_it_takes(column: str, cell: str, allowed: str) -> None:
    sentence = first_problem(**{column: cell})
    assert f'{column} is "{cell}"; give {allowed}' in sentence


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"zone_min": "9"}, "zone_max"),
        ({"height_10_max_m": "0.02", "height_10_min_m": "0.02"}, "height_10_max_m"),
        ({"bloom_end": ""}, "bloom_end"),
        ({"sun_best": "shade", "sun_range": "full"}, "sun_range"),
        ({"fruit_start": "8", "fruit_end": "9"}, "fruit_colour"),
        ({"foliage_winter": "#224422"}, "foliage_winter"),
        ({"light_bare": "0.4"}, "light_in_leaf"),
        ({"form": "columnar"}, "form"),
        ({"climbs_by": "twining"}, "climbs_by"),
        ({"weight": "light"}, "weight"),
        ({"toxicity": ""}, "toxicity"),
        ({"prune_group": "hardly"}, "prune_group"),
        ({"standing_end": ""}, "standing_end"),
        ({"role": "climber"}, "role"),
        ({"toxicity_by": "dogs severe"}, "toxicity_by"),
        ({"substitutes": KNOWN}, "substitutes"),
    ],
)
def test_cells_that_contradict_each_other_are_found(cells: dict[str, str], column: str) -> None:
    assert f"{KNOWN}: {column} is " in first_problem(**cells)


def test_all_bad_cells_are_told_at_once() -> None:
    row = {**row_of(KNOWN), "sun_best": "sun", "price": "9", "leaf": "green"}
    assert [p.split(": ")[1].split(" is ")[0] for p in problems([row])] == ["sun_best", "leaf", "price"]


def test_a_plant_in_two_tables_is_found() -> None:
    row = {**row_of(KNOWN), "file": "perennials.csv"}
    assert "already in bulbs.csv" in problems([row_of(KNOWN), row])[0]


# -- reading one plant --


def test_a_species_has_every_column_of_the_tables() -> None:
    # halves of a month, written in the cell of the month; what a garden's journal has shown
    own = ["bloom_start_half", "bloom_end_half", "bloom_later"]
    assert [field.name for field in Species.__attrs_attrs__] == [column.name for column in COLUMNS] + own


def test_sizes_months_and_tasks_are_read_as_numbers() -> None:
    row = row_of(KNOWN) | {"bloom_start": "12", "bloom_end": "2", "care": "divide@9/4; cut back@11-2"}
    row |= {"height_min_m": "0.1", "height_max_m": "0.2", "height_10_min_m": "0.1", "height_10_max_m": "0.2"}
    plant = species_from_row(row)
    assert plant.bloom_months == (12, 1, 2)
    assert plant.height == plant.height_10 == pytest.approx(0.15)
    assert plant.care == (
        CareTask(task="divide", first_month=9, last_month=9, every_years=4),
        CareTask(task="cut back", first_month=11, last_month=2),
    )
    assert plant.care[1].months == (11, 12, 1, 2)


def test_an_invasive_entry_keeps_the_brackets_inside_the_list_name_and_the_status() -> None:
    entries = "US-X: A Guide, App. A (part: shrubs) (not to be planted); CH/EU: TPPT flag (yes (forbidden CH and EU))"
    plant = species_from_row(row_of(KNOWN) | {"invasive": entries})
    assert plant.invasive == (
        InvasiveListing(jurisdiction="US-X", list="A Guide, App. A (part: shrubs)", status="not to be planted"),
        InvasiveListing(jurisdiction="CH/EU", list="TPPT flag", status="yes (forbidden CH and EU)"),
    )
    assert "; ".join(entry.sentence() for entry in plant.invasive) == entries


def test_an_empty_cell_is_never_called_safe() -> None:
    plant = species_from_row(row_of(KNOWN) | {"toxic_to": "", "toxicity": ""})
    assert NOT_LISTED == "no toxicity listed in the sources consulted; this does not mean safe"
    assert caution_text(plant).startswith(NOT_LISTED)
    assert "ask your state or province" in caution_text(plant)


def test_the_caution_names_who_is_hurt_and_how_much_and_calls_no_one_else_safe() -> None:
    text = caution_text(load_catalogue()["Lilium regale"])
    assert text.startswith("severe toxicity listed for cats; mild for dogs; others are not named")
    assert "does not mean safe for them" in text


@given(st.integers(1, 12), st.integers(1, 12))
def test_months_begin_and_end_where_said_and_never_repeat(first: int, last: int) -> None:
    months = months_from_to(first, last)
    assert (months[0], months[-1]) == (first, last)
    assert len(set(months)) == len(months)


# -- finding a plant --


def test_every_plant_is_found_by_its_own_name_in_any_case() -> None:
    catalogue = load_catalogue()
    for plant in catalogue:
        assert catalogue[plant.botanical] is plant
        assert catalogue[plant.botanical.upper().replace("×", "x")] is plant


def test_a_plant_is_found_by_its_common_name() -> None:
    assert load_catalogue()["meadow saffron"].botanical == "Colchicum autumnale"


def test_an_unknown_name_is_answered_with_the_nearest_known() -> None:
    with pytest.raises(
        GardenError, match=r'no plant called "Crocus tomasinianus".*nearest known is "Crocus tommasinianus"'
    ):
        load_catalogue()["Crocus tomasinianus"]
    assert "Crocus tomasinianus" not in load_catalogue()


def test_an_unknown_layer_is_answered_with_the_nearest_known() -> None:
    with pytest.raises(GardenError, match='no layer called "bulbs"; the nearest known is "bulb"'):
        load_catalogue().layer("bulbs")


def test_every_plant_stands_in_exactly_one_layer() -> None:
    catalogue = load_catalogue()
    assert sum(len(catalogue.layer(name)) for name in LAYERS) == len(catalogue)


def test_a_search_puts_names_that_begin_with_the_text_first() -> None:
    found = load_catalogue().find("crocus")
    assert found[0].genus == "Crocus"
    assert all("crocus" in name_key(f"{p.botanical} {p.common} {p.family}") for p in found)


# -- the garden's own plants --


def test_without_an_own_table_the_shipped_catalogue_is_the_same_object(tmp_path: Path) -> None:
    assert load_catalogue() is load_catalogue(own=tmp_path / "plants.csv")


def test_a_partial_own_row_changes_only_the_cells_it_fills(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    own.write_text(f"botanical,spacing_m,cautions\n{KNOWN.upper()},0.12,-\n", "utf-8")
    before, after = load_catalogue()[KNOWN], load_catalogue(own=own)[KNOWN]
    assert (after.spacing_m, after.cautions, after.botanical) == (0.12, (), KNOWN)
    assert (after.height, after.toxic_to) == (before.height, before.toxic_to)
    assert len(load_catalogue(own=own)) == len(load_catalogue())


def test_a_new_own_plant_needs_a_whole_row_and_is_told_every_missing_cell(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    own.write_text("botanical,common\nCrocus novus,new crocus\n", "utf-8")
    with pytest.raises(GardenError) as fault:
        load_catalogue(own=own)
    missing = {line.split(": ")[1].split(" is ")[0] for line in str(fault.value).split(". ")}
    assert missing == {column.name for column in COLUMNS if column.required} - {"botanical", "common"}


def test_an_own_table_with_an_unknown_column_names_the_nearest(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    own.write_text(f"botanical,spaceing_m\n{KNOWN},0.1\n", "utf-8")
    with pytest.raises(GardenError, match='there is no column "spaceing_m"; the nearest known is "spacing_m"'):
        load_catalogue(own=own)


def test_a_comma_outside_quotes_in_an_own_table_is_told_by_line(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    own.write_text(f"botanical,cautions\n{KNOWN},seeds about, freely\n", "utf-8")
    with pytest.raises(GardenError, match="line 2: the row has more cells than there are columns"):
        load_catalogue(own=own)


def test_a_written_own_plant_is_read_back_and_the_second_writing_wins(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    new = {column: cell for column, cell in row_of(KNOWN).items() if column in BY_NAME} | {"botanical": "Crocus novus"}
    assert write_own(own, new).botanical == "Crocus novus"
    write_own(own, {"botanical": KNOWN, "spacing_m": 0.2, "moisture": ("dry", "medium")})
    write_own(own, {"botanical": KNOWN, "price": 3})
    catalogue = load_catalogue(own=own)
    assert (catalogue[KNOWN].spacing_m, catalogue[KNOWN].price, catalogue[KNOWN].moisture) == (
        0.2,
        3,
        ("dry", "medium"),
    )
    assert len(catalogue) == len(load_catalogue()) + 1
    assert sorted(path.name for path in tmp_path.iterdir()) == [".plants.csv.lock", "plants.csv"]


def test_nothing_is_written_when_anything_is_wrong(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    write_own(own, {"botanical": KNOWN, "price": 3})
    before = own.read_bytes()
    for values in ({"botanical": KNOWN, "price": 9}, {"botanical": KNOWN, "prize": 2}, {"price": 2}):
        with pytest.raises(GardenError):
            write_own(own, values)
    assert own.read_bytes() == before


def test_two_notebooks_write_own_plants_one_after_the_other(tmp_path: Path) -> None:
    own = tmp_path / "plants.csv"
    write_own(own, {"botanical": "Salvia nemorosa", "common": "bed sage"})
    other = threading.Thread(target=write_own, args=(own, {"botanical": "Stipa gigantea", "common": "tall oats"}))
    with alone_with(own):
        before = own.read_text(encoding="utf-8")
        other.start()
        other.join(0.2)
        assert other.is_alive() and own.read_text(encoding="utf-8") == before
    other.join(10)
    assert {"Salvia nemorosa", "Stipa gigantea"} <= {row.split(",")[0] for row in own.read_text().splitlines()}


def test_a_full_disk_leaves_nothing_beside_the_own_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device", "plants.csv")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_own(tmp_path / "plants.csv", {"botanical": "Salvia nemorosa", "common": "bed sage"})
    assert [path.name for path in tmp_path.iterdir() if path.suffix in (".csv", ".tmp")] == []


@pytest.mark.parametrize(
    ("common", "said"),
    [
        ("a\x00b", 'common holds a sign that cannot be shown (U+0000 after "a")'),
        ("line\nBEGIN:VEVENT", "common holds a sign that cannot be shown (U+000A"),
        ("\u202egnp.exe", "common holds a sign that cannot be shown (U+202E"),
        ("x" * 1_000_000, "common has 1,000,000 letters; 200 are the most"),
    ],
)
def test_words_of_own_plants_are_checked_when_written_and_when_read(tmp_path, common, said):
    own = tmp_path / "plants.csv"
    with pytest.raises(GardenError) as written:
        write_own(own, {"botanical": KNOWN, "common": common})
    assert not own.exists()
    with own.open("w", encoding="utf-8", newline="") as page:
        csv.writer(page).writerows([("botanical", "common"), (KNOWN, common)])
    with pytest.raises(GardenError) as read:
        load_catalogue(own=own)
    for caught in (written, read):
        assert str(caught.value).startswith(f"plants.csv, {KNOWN}: {said}")
        assert len(str(caught.value)) < 200


def test_a_pasted_table_with_an_endless_cell_is_named():
    with pytest.raises(GardenError, match="the pasted table cannot be read"):
        rows_of("botanical,common\nSalvia testa," + "x" * 200_000)
