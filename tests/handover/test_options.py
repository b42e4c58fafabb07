"""Options side by side: one page that needs no network, its figures those of the schedules of each structure."""

import re
from html import unescape
from pathlib import Path

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.alternatives import compared, options, out_of_bed, with_structure
from gardenkit.handover import bundle, wording
from gardenkit.handover import options as side_by_side
from gardenkit.handover.contents import Contents, contents
from gardenkit.project import Project
from gardenkit.project.edits import planting, structure
from gardenkit.project.edits.structure.alternatives import NOW

OTHER = 'gravel <walk> & "more"'


@pytest.fixture(scope="module")
def garden(example: Project, example_folder: Path) -> Garden:
    """The first example with few plants, and a wider first path kept beside it under a hostile name."""
    few = planting.remove_plants(example, [p.number for p in example.planting.plants[20:]])
    path = few.structure.paths[0].name
    wider = structure.keep_alternative(structure.change_path(few, path, width=1.6), OTHER)
    return Garden(attrs.evolve(few, alternatives=wider.alternatives), example_folder)


@pytest.fixture(scope="module")
def shown(garden: Garden) -> str:
    return side_by_side.render(garden)


def cells(html: str, words: str) -> list[str]:
    """Return the cells of one row of the page."""
    row = re.search(rf'<th scope="row">{re.escape(words)}</th>(.*?)</tr>', html, re.S)
    assert row is not None, words
    return [unescape(cell) for cell in re.findall(r"<td>(.*?)</td>", row[1])]


def test_every_option_has_its_plan_view_and_name_and_nothing_is_asked_of_the_network(shown: str) -> None:
    assert shown.count('<article class="option">') == 2 and shown.count('<div class="seen">') == 2
    assert f'<span class="letter">A</span> {NOW}' in shown
    assert "<walk>" not in shown and "gravel &lt;walk&gt;" in shown
    assert not re.findall(r'(?:src|href)="(?!data:|#)[^"]*"', shown)


def test_the_figures_are_those_of_each_options_own_schedules(garden: Garden, shown: str) -> None:
    every = [one for _, one in options(garden)]
    told: list[Contents] = [contents(one, with_sun=False) for one in every]
    assert cells(shown, "Plants and materials") == [wording.money(one)(one.garden.costs.total) for one in told]
    assert cells(shown, "Care in a year, grown in") == [f"{one.care_hours:,.0f} hours" for one in every]
    met = [f"{sum(w.verdict == 'met' for w in one.wants)} of {len(one.wants)}" for one in every]
    assert cells(shown, "Wants met") == met
    assert cells(shown, "Stones")[0].startswith(f"{compared(every[0]).stones}, ")
    assert len(set(cells(shown, "Paths and paving"))) == 2
    for item in garden.wants:
        verdict = wording.WORDS_OF_VERDICT[item.verdict]
        assert cells(shown, item.want.text.replace("'", "&#39;"))[0] == verdict


def test_a_plant_on_the_wider_path_is_counted_as_to_be_moved(garden: Garden, shown: str) -> None:
    other = with_structure(garden, OTHER)
    lost = out_of_bed(garden, other)
    assert cells(shown, "Plants that would have to be moved") == ["0", str(lost)]
    assert out_of_bed(garden, garden) == 0
    on_support = sum(bool(plant.support) for plant in garden.project.planting.plants)
    bones = attrs.evolve(garden.project.structure, supports=())
    bare = Garden(attrs.evolve(garden.project, structure=bones), garden.folder)
    assert out_of_bed(garden, bare) == out_of_bed(garden, garden) + on_support > 0


def test_open_warnings_stand_beside_the_figures(garden: Garden, shown: str) -> None:
    said = [cell.split()[0] for cell in cells(shown, "Still to settle")]
    assert said == [str(len(one.open_warnings) or "none") for _, one in options(garden)]


def test_without_another_structure_or_a_boundary_it_is_refused_in_one_sentence(garden: Garden, tmp_path: Path) -> None:
    alone = Garden(attrs.evolve(garden.project, alternatives=()), garden.folder)
    with pytest.raises(GardenError, match="nothing is kept beside the structure"):
        side_by_side.write(alone, tmp_path / "options.html")
    bare = structure.keep_alternative(Project(name="bare"), "first idea")
    with pytest.raises(GardenError, match="draw the boundary first"):
        side_by_side.write(Garden(bare, tmp_path), tmp_path / "options.html")
    assert not (tmp_path / "options.html").exists()


def test_the_bundle_holds_the_options_where_there_are_any(garden: Garden) -> None:
    assert bundle.OPTIONS in bundle.documents_of(garden)
    assert bundle.OPTIONS not in bundle.documents_of(Garden(Project(name="bare"), garden.folder))
