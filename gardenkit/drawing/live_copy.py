"""The live plan of a client copy: month and year sliders that work in any browser, with no kernel and no network.

The drawing under the plants is sent once. Each kind of plant is sent as one outline and twelve looks, each plant as its
place and its width year by year, and the page puts them together itself when a slider moves.
"""

import json
from collections.abc import Mapping, Sequence
from importlib.resources import files
from typing import Any

import attrs
import numpy as np
from bokeh.core.properties import value
from bokeh.document import Document
from bokeh.embed import components
from bokeh.models import (
    ColumnDataSource,
    CustomJS,
    CustomJSTickFormatter,
    HoverTool,
    LinearColorMapper,
    Range1d,
    Slider,
)
from bokeh.plotting import figure
from bokeh.resources import Resources
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.bokeh import SCREEN_FONT, frame
from gardenkit.drawing.columns import COLUMNS, TEXTS, Data, band_data, banded
from gardenkit.drawing.garden import MONTHS, drawn
from gardenkit.drawing.plan_site import site_marks
from gardenkit.drawing.scene import Mark, Scene, Symbol, tips_in_units
from gardenkit.drawing.symbols import (
    BARE_ALPHA,
    BY_LAYER,
    CANOPY_ALPHA,
    CANOPY_LAYERS,
    HABITS,
    PLANT_ALPHA,
    PlantDrawn,
    plant_symbol,
    unit_inner,
    unit_outline,
)
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.growth import size
from gardenkit.project import Project
from gardenkit.project.season import early_summer, standing
from gardenkit.project.sunlight import SunMap
from gardenkit.site import site as sites

LAST_YEAR = 15  # years after the first planting that the slider reaches
FULL_YEAR = 10  # the plan as it is drawn on paper, in the garden's own early summer
WIDTH_PX, MOST_HEIGHT_PX = 760, 960
BLANK = 255  # a sun map cell outside the open ground
BOKEH_PARTS = ("bokeh", "bokeh-widgets")


@attrs.frozen(kw_only=True)
class LiveCopy:
    """What a page needs: ``library`` once in its head, ``script`` once after the places, ``places`` where things stand.

    Places are "plan", "month", "year", and with a sun map also "sun" and "sun_month".
    """

    library: str
    script: str
    places: Mapping[str, str]


def live_copy(
    project: Project,
    catalogue: Catalogue,
    scene: Scene,
    *,
    sun: SunMap | None = None,
    bare: Scene | None = None,
    month: int | None = None,
    year: int = FULL_YEAR,
) -> LiveCopy:
    """Return the live figures of a garden. ``scene`` is its plan with plants, ``bare`` the one a sun map lies on."""
    month = month or early_summer(project.site)
    data = plant_data(project, catalogue)
    sources = {name: ColumnDataSource(name=name, data=columns) for name, columns in _tables().items()}
    trees = _trees_by_month(project, scene.scale)
    plan, shown = _plan(scene, sources, _without_plants(scene, project, catalogue), trees)
    month_slider, year_slider = _month_slider(month, "month"), _year_slider(year, project)
    redraw = CustomJS(
        args={
            "trees": shown,
            "sources": sources,
            "month": month_slider,
            "year": year_slider,
            "data": {"text": json.dumps(data)},  # one text: Bokeh walks through every number of a list, several times
            "months": list(MONTHS),
        },
        code=_script(),
    )
    for slider in (month_slider, year_slider):
        slider.js_on_change("value", redraw)
    parts = {"plan": plan, "month": month_slider, "year": year_slider}
    if sun is not None:
        parts |= _sun(open_hours(sun, project), sun, bare or scene, month_slider, month)
    script, places = components(_at_once(parts), wrap_script=True)
    library = Resources(mode="inline", components=list(BOKEH_PARTS)).render()
    return LiveCopy(library=library, script=script, places=places)


def plant_data(project: Project, catalogue: Catalogue) -> dict[str, Any]:
    """Return the plants as numbers: ``forms`` (outline and ribs of radius 1), ``kinds`` (twelve looks), ``plants``."""
    planted = project.planting.plants
    looks = _looks(project, catalogue)
    grown = _spreads(project, catalogue)
    forms: dict[tuple[str, int], int] = {}
    kinds: dict[str, int] = {}
    data: dict[str, Any] = {"forms": [], "kinds": [], "plants": []}
    for plant in planted:
        species = catalogue[plant.species]
        if species.botanical not in kinds:
            kinds[species.botanical] = len(kinds)
            height = size(species, FULL_YEAR).height
            data["kinds"].append(_kind(looks[species.botanical], round(height, 3), species.botanical, species.common))
        habit = BY_LAYER.get(species.layer, species.form if species.form in HABITS else "round")
        form = (habit, plant.number % 7)
        if form not in forms:
            forms[form] = len(forms)
            data["forms"].append(_form(*form))
        turn = 0.0 if HABITS[habit].squash < 0.5 else (plant.number * 37) % 360
        place = [round(plant.at[0], 3), round(plant.at[1], 3)]
        data["plants"].append(
            {
                "at": place,
                "form": forms[form],
                "kind": kinds[species.botanical],
                "turn": turn,
                "from": plant.year,
                "n": plant.number,
                "spread": grown[plant.number],
            }
        )
    data["plants"].sort(key=lambda p: data["kinds"][p["kind"]]["height"])
    return data


def open_hours(sun: SunMap, project: Project) -> FloatArray:
    """Return the map's hours (12, rows, columns) with NaN wherever a cell's middle is not open ground."""
    grid = sun.grid
    inside = plane.inside(sites.ground(project.site), grid.points).reshape(grid.rows, grid.columns)
    return np.where(inside[None, :, :], sun.hours, np.nan)


def sun_classes(hours: FloatArray) -> NDArray[np.uint8]:
    """Return the colour step of every cell, BLANK where there is no open ground."""
    steps = np.digitize(np.nan_to_num(hours, nan=0.0), style.SUN_STEPS).astype(np.uint8)
    return np.where(np.isfinite(hours), steps, BLANK).astype(np.uint8)


# ---- helpers


def _at_once(parts: dict[str, Any]) -> dict[str, Any]:
    """Return figures and sliders in one document, which looks through what they share once."""
    document = Document()
    with document.models.freeze():
        for part in parts.values():
            document.add_root(part)
    return parts


def _looks(project: Project, catalogue: Catalogue) -> dict[str, list[PlantDrawn]]:
    """Return how each kind looks in the twelve months, as its first plant does when it stands."""
    first = {catalogue[plant.species].botanical: plant for plant in reversed(project.planting.plants)}
    planted = tuple(attrs.evolve(plant, year=0, until=None) for plant in first.values())
    at_once = attrs.evolve(project, planting=attrs.evolve(project.planting, plants=planted))
    months = [drawn(standing(at_once, catalogue, year=0, month=month)) for month in range(1, 13)]
    return {kind: list(looks) for kind, *looks in zip(first, *months, strict=True)}


def _spreads(project: Project, catalogue: Catalogue) -> dict[int, list[float]]:
    """Return the width on the plan of every plant by its number, year by year from when it is planted."""
    found: dict[int, list[float]] = {plant.number: [] for plant in project.planting.plants}
    for year in range(LAST_YEAR + 1):
        for plant in standing(project, catalogue, year=year, month=early_summer(project.site)):
            found[plant.plant.number].append(round(plant.ground_spread, 3))
    return found


def _kind(months: Sequence[PlantDrawn], height: float, botanical: str, common: str) -> dict[str, Any]:
    first = months[0]
    canopy = first.layer in CANOPY_LAYERS
    return {
        "name": botanical,
        "common": common,
        "key": first.key,
        "canopy": canopy,
        "height": height,
        "leaf": [p.leaf for p in months],
        "fill": [style.BARE_INK if p.leaf in ("bare", "below ground") else p.foliage for p in months],
        "line": [style.BARE_INK if p.leaf in ("bare", "below ground") else style.outline_of(p.foliage) for p in months],
        "alpha": [_alpha(p.leaf, canopy) for p in months],
        "flower": [p.flower or "" for p in months],
        "edge": [style.outline_of(p.flower) if p.flower else "" for p in months],
    }


def _alpha(leaf: str, canopy: bool) -> float:
    if leaf in ("bare", "below ground"):
        return BARE_ALPHA if leaf == "bare" else 0.0
    return CANOPY_ALPHA if canopy else PLANT_ALPHA


def _form(habit: str, variant: int) -> dict[str, Any]:
    ring = unit_outline(habit, variant=variant)
    ribs: list[Point | None] = []
    for line in unit_inner(habit):
        ribs += [*((float(x), float(y)) for x, y in line), None]
    return {
        "x": np.round(ring[:, 0], 3).tolist(),
        "y": np.round(ring[:, 1], 3).tolist(),
        "rx": [None if p is None else round(p[0], 3) for p in ribs[:-1]],
        "ry": [None if p is None else round(p[1], 3) for p in ribs[:-1]],
        "squash": HABITS[habit].squash,
    }


def _tables() -> dict[str, dict[str, list[Any]]]:
    """Return empty tables for the plants; the page fills them when it opens."""
    outlines = ("xs", "ys", "fill", "alpha", "line", "width", "dash", "tip")
    ribs, flowers = ("xs", "ys", "line"), ("x", "y", "radius", "fill", "line")
    kinds = {"plants": outlines, "ribs": ribs, "flowers": flowers}
    return {
        f"{layer}_{name}": {column: [] for column in columns}
        for layer in ("low", "canopy")
        for name, columns in kinds.items()
    }


def _without_plants(scene: Scene, project: Project, catalogue: Catalogue) -> tuple[Mark, ...]:
    """Return the marks of a plan less its plants and the trees that stand there, the labels with their keys kept."""
    plants = drawn(standing(project, catalogue, year=FULL_YEAR, month=early_summer(project.site)))
    symbols = tips_in_units((plant_symbol(plant, scale=scene.scale) for plant in plants), project.units)
    left_out = {
        m for m in (*symbols, *_canopies(project, scene.scale, early_summer(project.site))) if isinstance(m, Symbol)
    }
    return tuple(mark for mark in scene.marks if not (isinstance(mark, Symbol) and mark in left_out))


def _trees_by_month(project: Project, scale: float) -> dict[tuple[Mark, ...], list[int]]:
    """Return each look of the trees that stand there, with the months it lasts."""
    looks: dict[tuple[Mark, ...], list[int]] = {}
    for month in range(1, 13):
        looks.setdefault(_canopies(project, scale, month), []).append(month)
    return looks


def _canopies(project: Project, scale: float, month: int) -> tuple[Mark, ...]:
    marks = site_marks(project.site, scale=scale, month=month)
    return tips_in_units((mark for mark in marks if mark.layer == "canopy"), project.units)


def _plan(
    scene: Scene,
    sources: Mapping[str, ColumnDataSource],
    marks: Sequence[Mark],
    trees: Mapping[tuple[Mark, ...], list[int]],
) -> tuple[Any, list[dict[str, Any]]]:
    """Return the figure, and what is drawn of the standing trees in which months."""
    plot = _frame(scene, "plan")
    bands = banded(marks)
    _band(plot, "ground", bands)
    _band(plot, "planting", bands)
    low = _plants(plot, sources, "low")
    _band(plot, "structure", bands)
    shown = [{"months": months, "drawn": _band(plot, "above", banded(look))} for look, months in trees.items()]
    canopy = _plants(plot, sources, "canopy")
    _band(plot, "above", bands)
    _words(plot, bands)
    plot.add_tools(HoverTool(renderers=[low, canopy], tooltips="@tip", description="Name the plant under the pointer"))
    return plot, shown


def _frame(scene: Scene, name: str) -> Any:
    wide, high, bounds = frame(scene.bounds, width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX)
    plot = figure(
        name=name,
        frame_width=wide,
        frame_height=high,
        x_range=Range1d(bounds[0], bounds[2]),
        y_range=Range1d(bounds[1], bounds[3]),
        tools="pan,wheel_zoom,reset",
        toolbar_location="above",
        background_fill_color=style.PAPER,
        border_fill_color=style.PAPER,
        outline_line_color=None,
        min_border=0,
        output_backend="canvas",
    )
    plot.axis.visible = plot.grid.visible = False
    plot.toolbar.logo = plot.toolbar.active_drag = plot.toolbar.active_scroll = None
    return plot


def _band(plot: Any, name: str, bands: Mapping[str, Sequence[Any]]) -> list[Any]:
    renderers = []
    for key, data in band_data(name, bands[name]).items():
        if not any(len(column) for column in data.values()):
            continue
        source = ColumnDataSource(data=data)
        fields = {column: column for column in COLUMNS[key.rpartition("_")[2]]}
        match key.rpartition("_")[2]:
            case "areas":
                renderers.append(plot.multi_polygons(source=source, **fields))
            case "lines":
                line = plot.multi_line(source=source, line_cap="round", line_join="round", **fields)
                renderers.append(line)
            case "dots":
                renderers.append(plot.circle(source=source, **fields))
    return renderers


def _words(plot: Any, bands: Mapping[str, Sequence[Any]]) -> None:
    data: Data = band_data(TEXTS, bands[TEXTS])[TEXTS]
    plot.text(
        source=ColumnDataSource(data=data, name=f"{plot.name}_words"),
        text_font=value(SCREEN_FONT),
        text_baseline="middle",
        padding=1,
        border_radius=3,
        **{column: column for column in COLUMNS[TEXTS]},
    )


def _plants(plot: Any, sources: Mapping[str, ColumnDataSource], layer: str) -> Any:
    body = plot.patches(
        source=sources[f"{layer}_plants"],
        xs="xs",
        ys="ys",
        fill_color="fill",
        fill_alpha="alpha",
        line_color="line",
        line_width="width",
        line_dash="dash",
        hover_line_color=style.EYE,
        hover_line_alpha=1.0,
        hover_fill_color="fill",
        hover_fill_alpha="alpha",
    )
    plot.multi_line(
        source=sources[f"{layer}_ribs"], xs="xs", ys="ys", line_color="line", line_width=0.6, line_alpha=0.8
    )
    plot.circle(
        source=sources[f"{layer}_flowers"],
        x="x",
        y="y",
        radius="radius",
        fill_color="fill",
        line_color="line",
        line_width=0.5,
    )
    return body


def _month_slider(month: int, name: str) -> Slider:
    words = CustomJSTickFormatter(args={"months": list(MONTHS)}, code="return months[Math.round(tick) - 1]")
    return Slider(
        name=name,
        start=1,
        end=12,
        step=1,
        value=month,
        title="Month",
        format=words,
        sizing_mode="stretch_width",
        bar_color=style.GROUND["grass"],
    )


def _year_slider(year: int, project: Project) -> Slider:
    words = CustomJSTickFormatter(
        args={"first": project.planting.first_year},
        code="return tick == 0 ? `planting, ${first}` : `${tick} (${first + tick})`",
    )
    return Slider(
        name="year",
        start=0,
        end=LAST_YEAR,
        step=1,
        value=year,
        title="Years after planting",
        format=words,
        sizing_mode="stretch_width",
        bar_color=style.GROUND["grass"],
    )


def _sun(hours: FloatArray, sun: SunMap, scene: Scene, month_slider: Slider, month: int) -> dict[str, Any]:
    plot = _frame(scene, "sun")
    bands = banded(scene.marks)
    grids = [sun_classes(hours[m]) for m in range(12)]
    shown = ColumnDataSource(name="sun_shown", data={"image": [grids[month - 1]]})
    mapper = LinearColorMapper(
        palette=list(style.SUN_COLOURS), low=-0.5, high=len(style.SUN_COLOURS) - 0.5, high_color="rgba(0,0,0,0)"
    )
    _band(plot, "ground", bands)
    plot.image(
        image="image",
        source=shown,
        x=sun.grid.left,
        y=sun.grid.bottom,
        dw=sun.grid.columns * sun.grid.cell,
        dh=sun.grid.rows * sun.grid.cell,
        color_mapper=mapper,
        alpha=0.88,
    )
    for name in ("structure", "above"):
        _band(plot, name, bands)
    _words(plot, bands)
    slider = _month_slider(month, "sun_month")
    slider.js_link("value", month_slider, "value")
    month_slider.js_link("value", slider, "value")
    year_of_sun = ColumnDataSource(data={f"m{m + 1}": [grid] for m, grid in enumerate(grids)})
    slider.js_on_change(
        "value",
        CustomJS(
            args={"shown": shown, "all": year_of_sun, "months": list(MONTHS)},
            code="shown.data = {image: all.data['m' + cb_obj.value]};"
            "for (const e of document.querySelectorAll('[data-sun-month]')) e.textContent = months[cb_obj.value - 1];",
        ),
    )
    return {"sun": plot, "sun_month": slider}


def _script() -> str:
    return files("gardenkit.drawing").joinpath("live_copy.js").read_text(encoding="utf-8")
