"""The office edition is one file that needs no network, says everything the project holds, and lets nothing run."""

import datetime as dt
import html as markup
import json
import re
from itertools import pairwise
from typing import get_args, get_type_hints

import attrs
import pytest

from gardenkit.brief.style import Picture
from gardenkit.drawing import style
from gardenkit.garden import Garden
from gardenkit.handover import booklet
from gardenkit.handover.contents import contents
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.edits import journal
from gardenkit.saying import in_system
from gardenkit.schedules.plant_order import order_columns
from gardenkit.units import rough_length

from .reading_pages import Reader, read

EVIL = "<script>alert(1)</script>\"'&<img src=x onerror=alert(2)>"


@pytest.fixture(scope="session")
def seen(html) -> Reader:
    return read(html)


def test_it_is_one_file_and_nothing_beside_it(example, example_folder, told, tmp_path):
    target = tmp_path / "deep" / "copy.html"
    size = booklet.write(Garden(example, example_folder), target, edition="office")
    assert size == target.stat().st_size
    assert target.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert [path.name for path in target.parent.iterdir()] == ["copy.html"]


def test_no_tag_points_at_the_network(seen):
    for tag, attributes in seen.tags:
        for name in ("src", "href", "srcset", "poster", "data", "action"):
            address = attributes.get(name)
            assert not address or address.startswith(("#", "data:")), (tag, name, address)


def test_a_policy_before_anything_else_keeps_the_page_from_calling_anyone(html):
    """Content Security Policy Level 3 (W3C): what ``default-src 'none'`` is not overruled for is not fetched at all."""
    head = html[html.index("<head>") :]
    policy = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">', head)
    assert policy is not None
    assert not re.search(r"<(?:script|style|link|img)\b", head[: policy.start()])
    rules = {words[0]: words[1:] for words in (rule.split() for rule in policy[1].split(";"))}
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == ["'none'"]
    assert {"connect-src", "frame-src", "object-src"}.isdisjoint(rules)  # left to default-src
    known = {"'none'", "'unsafe-inline'", "'unsafe-eval'", "data:", "blob:"}  # and no address anywhere
    assert {word for words in rules.values() for word in words} <= known


def test_style_asks_for_nothing_from_outside(html):
    for sheet in re.findall(r"<style>(.*?)</style>", html, re.S):
        assert "url(" not in sheet
        assert "@import" not in sheet


def test_bokehjs_is_there_once_and_only_the_two_parts_needed(html):
    assert html.count("BEGIN bokeh.min.js") == 1
    assert html.count("BEGIN bokeh-widgets.min.js") == 1
    assert "BEGIN bokeh-gl" not in html
    assert "BEGIN bokeh-tables" not in html
    assert "BEGIN bokeh-mathjax" not in html


def test_headings_come_in_order_under_one_title(seen):
    levels = [int(tag[1]) for tag, _ in seen.tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_every_contents_line_leads_to_its_section(seen):
    ids = {attributes["id"] for _, attributes in seen.tags if attributes.get("id")}
    links = [a["href"][1:] for a in seen.named("a") if a["href"].startswith("#")]
    assert len(links) > 10
    assert set(links) <= ids


def test_ids_are_used_once(seen):
    ids = [attributes["id"] for _, attributes in seen.tags if attributes.get("id")]
    assert len(ids) == len(set(ids))


def test_every_picture_has_words(seen, html):
    assert all(image.get("alt") for image in seen.named("img"))
    drawings = seen.named("svg")
    assert len(drawings) >= 6  # the plan, the bloom calendar, four sun maps
    for drawing in drawings:
        assert drawing["role"] == "img"
        title, words = drawing["aria-labelledby"].split()
        assert re.search(rf'<title id="{title}">[^<]+</title><desc id="{words}">[^<]+</desc>', html)
    for attributes in (a for _, a in seen.tags if a.get("role") == "img"):
        assert attributes.get("aria-label") or attributes.get("aria-labelledby")


def test_tables_have_captions_and_column_heads(seen):
    assert len(seen.named("caption")) == len(seen.named("table")) >= 8
    assert all(head.get("scope") in ("col", "row") for head in seen.named("th"))


def test_it_says_for_whom_by_whom_and_that_it_is_invented(seen, example):
    assert example.client in seen.text
    assert example.designer in seen.text
    assert "Invented demonstration garden" in seen.text
    assert seen.named("html")[0]["lang"] == "en"


def test_a_real_garden_is_not_called_invented(plain_garden, tmp_path):
    assert "Invented demonstration" not in booklet.render(Garden(plain_garden, tmp_path), edition="office")


def test_every_want_has_its_verdict_beside_it(html, told):
    rows = dict(
        re.findall(r'<tr><th scope="row">([^<]+)</th><td>[^<]+</td><td class="verdict [^"]+">([^<]+)</td>', html)
    )
    words = {"to be judged by eye": "by eye"}
    assert {markup.unescape(text): verdict for text, verdict in rows.items()} == {
        item.want.text: words.get(item.verdict, item.verdict) for item in told.garden.wants
    }


def test_keys_of_the_schedule_stand_on_the_plan(html, told):
    plan = re.findall(r"<svg.*?</svg>", html.split('<section id="plan"')[1], re.S)[0]
    on_plan = {words.split()[0] for words in re.findall(r"<text[^>]*>([^<]+)</text>", plan)}
    assert {line.key for line in told.garden.schedule} <= on_plan
    assert all(line.key for line in told.garden.schedule)


def test_every_plant_material_and_step_is_named(seen, told):
    for line in told.garden.schedule:
        assert line.species.botanical in seen.text
    for order in told.garden.orders:
        assert order.imperial in seen.text
    for phase in told.garden.phases:
        assert phase.name in seen.text
        for caution in phase.cautions:
            assert in_system(caution, told.garden.units) in seen.text


def test_every_finding_is_there_worst_first_with_its_source(seen, told):
    units = told.project.units
    places = [seen.text.index(" ".join(in_system(finding.what, units).split())) for finding in told.garden.advice]
    grades = [finding.seriousness for finding in told.garden.advice]
    assert grades == sorted(grades, key=["stop", "warning", "caution", "note"].index)
    assert len(places) == len(told.garden.advice) > 5
    named = {source for _, group in told.sources for source in group}
    for finding in (*told.garden.advice, *told.garden.cautions):
        assert not finding.source or finding.source in named
    for source in named:
        assert " ".join(told.garden.say(source).split()) in seen.text


def test_catalogue_values_from_memory_are_to_be_confirmed(seen, told):
    assert "confirm hardiness, size, toxicity and local listing with a local nursery or extension office" in seen.text


def test_listed_plants_are_cautioned_and_the_others_not_called_safe(seen, told):
    assert told.garden.cautions
    assert "this does not mean safe" in seen.text
    for finding in told.garden.cautions:
        assert told.garden.catalogue[finding.where].botanical in seen.text


def test_the_care_calendar_has_twelve_months(seen):
    months = [words for words in seen.words if words in style.MONTHS or words in booklet.MONTHS]
    assert all(month in months for month in booklet.MONTHS)


@pytest.mark.parametrize("ink", [style.INK, style.SOFT_INK, style.PLANT_INK, style.EYE, style.ALERT])
@pytest.mark.parametrize("ground", [style.PAPER, style.GROUND["open ground"], "#ffffff"])
def test_words_stand_out_from_their_ground(ink, ground):
    assert style.contrast(ink, ground) >= 4.5


def test_letters_have_no_other_colours_than_those(html):
    css = re.findall(r"<style>(.*?)</style>", html, re.S)[0]
    found = set(re.findall(r"(?<![-\w])color:\s*([^;}]+)", css))
    assert found <= {"var(--ink)", "var(--soft)", "var(--leaf)", "var(--eye)", "var(--alert)", "inherit"}


def test_the_office_has_what_a_nursery_asks_of_each_kind(html, told):
    table = html[html.index("What a nursery asks") :]
    table = table[: table.index("</table>")]
    rows = re.findall(r"<tr><td class=\"key\">.*?</tr>", table, re.S)
    assert len(rows) == len(told.garden.schedule)
    for row, line in zip(rows, told.garden.schedule, strict=True):
        asked = order_columns(line, told.garden.catalogue)
        assert (
            f"<td>{asked.roots}</td>" in row and f"<td>{asked.season}</td>" in row and f"<td>{asked.code}</td>" in row
        )
        assert f'<td class="number">{asked.spares or ""}</td>' in row
        assert all(name in markup.unescape(row) for name in asked.instead)


def test_in_print_the_sliders_go_and_pages_break(html):
    css = re.findall(r"<style>(.*?)</style>", html, re.S)[0]
    print_rules = css[css.index("@media print") :]
    assert re.search(r"\.screen-only[^{]*\{ display: none !important", print_rules)
    assert "break-before: page" in print_rules
    assert re.search(r'<div class="screen-only live">\s*<div class="sliders">', html)


# ---- text that would run


LOOKED_UP = {
    "kind",
    "revision",
    "logo",
    "surface",
    "species",
    "timezone",
    "file",
    "zone",
    "root_rule",
    "post_rule",
    "last_frost",
    "first_frost",
    "colours",
    "palette",
    "fact",
}


def poisoned(value, field=None):
    """Return records with every free text made hostile; names that refer to one another stay in step."""
    if attrs.has(type(value)):
        hints = get_type_hints(type(value))
        fields = [f for f in attrs.fields(type(value)) if f.init and f.name not in LOOKED_UP]
        return attrs.evolve(value, **{f.name: poisoned(getattr(value, f.name), hints[f.name]) for f in fields})
    if isinstance(value, tuple):
        inside = get_args(field)[:1] or (None,)
        return tuple(poisoned(item, inside[0]) for item in value)
    return f"{value}{EVIL}" if isinstance(value, str) and value and field is str else value


def test_no_project_text_becomes_markup(example, example_folder, told, seen):
    page = booklet.page(contents(Garden(poisoned(example), example_folder)), edition="office")
    assert EVIL not in page
    assert "<script>alert(1)" not in page
    assert "<img src=x" not in page
    hostile = read(page)
    assert [tag for tag, _ in hostile.tags].count("script") == [tag for tag, _ in seen.tags].count("script")
    assert len(hostile.named("img")) == len(seen.named("img"))
    assert not any(name.startswith("on") for _, attributes in hostile.tags for name in attributes)
    assert markup.unescape(hostile.text).count("alert(1)") > 50


def test_a_plant_of_the_gardens_own_is_escaped_too(plain_garden, tmp_path):
    row = {"botanical": "Salvia nemorosa", "cautions": EVIL.replace(";", ",")}
    text = ",".join(row) + "\n" + ",".join(json.dumps(v).replace('\\"', '""') for v in row.values()) + "\n"
    (tmp_path / "plants.csv").write_text(text, encoding="utf-8")
    page = booklet.render(Garden(plain_garden, tmp_path), edition="office")
    assert "<script>alert(1)" not in page
    assert markup.escape(EVIL.split("</script>", maxsplit=1)[0], quote=False) in page


# ---- gardens with little in them


def test_a_garden_without_plants_place_or_wants_still_makes_a_copy(plain_garden, tmp_path):
    bare = attrs.evolve(plain_garden, planting=Planting())
    text = read(booklet.render(Garden(bare, tmp_path), edition="office")).text
    assert "Plant schedule" not in text
    assert "Sun on the ground" not in text
    assert "Order of work" in text
    assert "West" in text


def test_an_empty_project_still_makes_a_copy(tmp_path):
    page = booklet.render(Garden(Project(name="Nothing yet"), tmp_path), edition="office")
    assert "Nothing yet" in page
    assert "BEGIN bokeh.min.js" not in page


@pytest.mark.parametrize(("units", "there", "not_there"), [("metric", "m²", "sq ft"), ("imperial", "sq ft", "m²")])
def test_ground_is_told_in_the_gardens_own_units(plain_garden, tmp_path, units, there, not_there):
    page = booklet.render(Garden(attrs.evolve(plain_garden, units=units), tmp_path), edition="office")
    table = page[page.index("<caption>Ground, as worked out") :].split("</table>")[0]
    assert there in table
    assert not_there not in table


def test_a_picture_outside_the_garden_folder_is_not_read(example, example_folder, tmp_path):
    secret = tmp_path / "secret.jpg"
    secret.write_bytes((example_folder / "pictures" / example.brief.pictures[0].file).read_bytes())
    garden = tmp_path / "garden"
    (garden / "pictures").mkdir(parents=True)
    brief = attrs.evolve(example.brief, pictures=(Picture(file="../../secret.jpg"), Picture(file="missing.jpg")))
    found = contents(Garden(attrs.evolve(example, brief=brief), garden), with_sun=False)
    assert found.pictures == ()


@pytest.mark.parametrize(
    ("metres", "imperial", "metric"),
    [(0.45, "1' 6\"", "0.45 m"), (0.1, '4"', "0.10 m"), (6.2, "20½ ft", "6.20 m"), (3.05, "10 ft", "3.05 m")],
)
def test_plant_sizes_are_told_as_loosely_as_plants_grow(metres, imperial, metric):
    assert rough_length(metres, "imperial") == imperial
    assert rough_length(metres, "metric") == metric


def test_what_you_will_see_is_drawn_from_the_gate_in_four_seasons_and_from_a_seat_young_and_old(html):
    views = html.split('<section id="views"')[1].split("</section>")[0]
    assert views.count("<svg") == 3
    for words in ("April, year 10", "January, year 10", "year 1<", "year 15<"):
        assert words in views


def test_the_office_reads_the_journal_with_what_was_seen_and_what_is_to_do(tmp_path):
    plants = tuple(Plant(number=n, species="Salvia nemorosa", at=(float(n), 1.0)) for n in (1, 2))
    bare = Project(name="Lived", units="metric", planting=Planting(plants=plants, first_year=2026))
    day = dt.date(2028, 6, 12)
    lived = journal.died(bare, 1, date=day, note=EVIL, next_year="replace")
    lived = journal.write_down(lived, "measured", date=day, number=2, height=0.37)
    page = booklet.render(Garden(lived, tmp_path), edition="office")
    section = page.split('<section id="journal"')[1].split("</section>", maxsplit=1)[0]
    assert EVIL not in page
    told = read(section).text
    for words in (EVIL, "Salvia nemorosa, plant 1", "0.37 m high", "0.37 m in 2028", "To do in 2029", "replace"):
        assert words in told
    (lost,) = [one for one in Garden(lived, tmp_path).living.to_do if one.do == "replace"]
    assert (lost.count, lost.numbers) == (1, (1,))  # once, though its entry asks for another itself
    assert lost.why == f"died 2028-06-12: {EVIL}"
    assert '<section id="journal"' not in booklet.render(Garden(bare, tmp_path), edition="office")
