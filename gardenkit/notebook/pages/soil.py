"""The soil: jar and hole tests typed in, the texture triangle, what the soil holds, and what it takes to change it."""

from collections.abc import Callable
from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing.scene import Scene
from gardenkit.drawing.site_charts import texture_triangle
from gardenkit.drawing.svg import svg
from gardenkit.findings import Finding, GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.project.edits import site as edits
from gardenkit.project.layout import layout
from gardenkit.site.amendments import (
    COMPOST_LEAST,
    LIME_TABLES,
    SULPHUR_TABLES,
    Amendment,
    layer_volume,
    lime,
    mulch_findings,
    sulphur,
)
from gardenkit.site.soil import (
    DRAINAGE,
    DRAINAGE_SOURCES,
    INCH_MM,
    Soil,
    available_water_mm,
    drainage_class,
    hole_test_mm_per_hour,
    ph_class,
    soil_findings,
    soil_texture,
)
from gardenkit.site.texture import JAR_TIMINGS, JarReading, jar_shares, normalised, soil_group
from gardenkit.units import POUND, SQUARE_FOOT, System, length, show_area, show_length, show_volume, show_weight

PICTURE_PX = 560
MINUTES = 15.0  # between two readings of the hole test, the Cornell way
ALL_BEDS = "all beds"
LIME_WORDS = {None: "not tested", True: "yes, crumbs fizz in vinegar", False: "no"}
SOIL_ENTRIES = (
    Entry(key="sand_percent", words="Sand, percent", hint="48"),
    Entry(key="silt_percent", words="Silt, percent", hint="36"),
    Entry(key="clay_percent", words="Clay, percent", hint="16"),
    Entry(key="jar", words="or the jar: top of sand, of silt, of clay, from the bottom", hint="0.8, 1.6, 2.0"),
    Entry(key="timing", words="Waiting times kept, after", options=tuple((t, t) for t in JAR_TIMINGS)),
    Entry(key="ph", words="pH", hint="6.3"),
    Entry(key="free_lime", words="Free lime", options=tuple((v, v) for v in LIME_WORDS.values())),
    Entry(
        key="drops",
        words="Hole test: fall of the water in each 15 minutes",
        hint="1 in, 3/4 in, 1/2 in, or 25 mm, 20 mm, 12 mm",
    ),
    Entry(key="drainage", words="or the rate itself, an hour", hint="1.8 in, or 45 mm"),
    Entry(key="organic_matter_percent", words="Organic matter, percent", hint="4"),
    Entry(key="source", words="Tested by, when", hint="jar and hole test, May"),
)


class SoilPage(Page):
    """The tests left, the triangle right, below it what follows: water held, drainage, pH, amendments, volumes."""

    def build(self) -> None:
        """Make the widgets, once."""
        units = self.project.units
        inches = units == "imperial"
        self.form = Form(SOIL_ENTRIES, name="soil")
        take = controls.button("Take these readings", self.take, name="take-soil", width="96%")
        self.depth = controls.field(
            "Depth of the roots", "12 in" if inches else "30 cm", self._again, name="root-depth"
        )
        self.scheme = controls.choice("Drainage called after", "Cornell", list(DRAINAGE), self._again, name="scheme")
        self.bed = controls.choice("Bed", ALL_BEDS, [ALL_BEDS], self._again, name="bed")
        self.wanted = controls.field("pH wanted", "", self._again, name="wanted", hint="6.5")
        self.table = controls.choice("By the table", None, [("choose ...", None)], self._again, name="table")
        self.bare = controls.tick("Bare bed: dug in all at once", False, self._again)
        self.compost = controls.field("Compost, mixed in", "3 in" if inches else "75 mm", self._again, name="compost")
        self.topsoil = controls.field("Topsoil on top", "0", self._again, name="topsoil")
        self.mulch = controls.field("Mulch", "3 in" if inches else "75 mm", self._again, name="mulch")
        self.triangle, self.facts, self.amended, self.volumes, self.findings = (w.HTML() for _ in range(5))
        parts = forms.sections(
            [
                ("What was tested", [self.form, take]),
                ("Reading the tests", [self.depth, self.scheme]),
                ("Changing the pH", [self.bed, self.wanted, self.table, self.bare]),
                ("Compost, topsoil, mulch", [self.compost, self.topsoil, self.mulch]),
            ]
        )
        right = forms.beside(
            self.triangle, w.VBox([self.facts, self.amended], layout=w.Layout(flex="1 1 330px", min_width="0"))
        )
        self.widget = controls.page(self.message, [parts, self.undo_row()], right, [self.volumes, self.findings])

    def refresh(self) -> None:
        """Show the soil and what follows from it."""
        soil, units = self.project.site.soil, self.project.units
        self.form.show(_texts(soil, units))
        beds = [ALL_BEDS, *(b.name for b in layout(self.project).beds)]
        forms.relist(self.bed, [(name, name) for name in beds], self.bed.bar.value)
        shares = shares_of(soil)
        name = soil_texture(soil) or ""
        self.triangle.value = forms.picture(svg(texture_triangle(shares, name=name)), width_px=PICTURE_PX)
        self._show_what_follows()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def take(self) -> None:
        """Take in the readings; nothing is kept unless all of them can be."""
        soil = read_soil(self.form.texts(), self.project.site.soil, self.project.units)
        kind = soil_texture(soil)
        if self.edit("soil", lambda p: edits.set_soil(p, soil)):
            self.message.say(f"taken: the soil is {kind}" if kind else "taken; the texture is still to be found")

    # --- what follows -------------------------------------------------------------------------------------------

    def amendment(self) -> Amendment | None:
        """Return what it takes to reach the pH wanted, by the chosen bed and table; None until all is given."""
        soil, table = self.project.site.soil, self.table.bar.value
        wanted = self._wanted()
        if wanted is None or table is None:
            return None
        if soil.ph is None:
            raise GardenError("the pH is not known yet; test it before changing it")
        kind = soil_texture(soil)
        if kind is None:
            raise GardenError("the texture is not known yet, and the tables ask for it; do the jar test first")
        area, where = self._area(), self.bed.bar.value
        group = soil_group(kind)
        if wanted > soil.ph:
            return lime(table=table, group=group, ph_now=soil.ph, ph_wanted=wanted, area=area, where=where)
        return sulphur(
            table=table,
            group=group,
            ph_now=soil.ph,
            ph_wanted=wanted,
            area=area,
            free_lime=soil.free_lime,
            bare_bed=bool(self.bare.bar.value),
            where=where,
        )

    def facts_rows(self) -> list[tuple[str, str]]:
        """Return what the tests say."""
        soil, units = self.project.site.soil, self.project.units
        kind, shares = soil_texture(soil), shares_of(soil)
        rows = [
            ("texture", "not known" if kind is None else f"{kind} (counts as {soil_group(kind)} in amendment tables)")
        ]
        if shares is not None:
            rows.append(("sand, silt, clay", " · ".join(f"{s:.0f} %" for s in shares)))
        if kind is not None:
            depth = self._length(self.depth, "the depth of the roots")
            low, high = available_water_mm(kind, root_depth=depth)
            held = (
                f"{low / INCH_MM:.1f} to {high / INCH_MM:.1f} in"
                if units == "imperial"
                else f"{low:.0f} to {high:.0f} mm"
            )
            rows.append((f"water plants can draw from {show_length(depth, units, small=True)}", held))
        rows.append(("pH", "not known" if soil.ph is None else f"{soil.ph:.1f}, {ph_class(soil.ph)}"))
        rows.append(("free lime", LIME_WORDS[soil.free_lime]))
        rate = soil.drainage_mm_per_hour
        if rate is not None:
            scheme = self.scheme.bar.value
            shown = f"{rate / INCH_MM:.1f} in an hour" if units == "imperial" else f"{rate:.0f} mm an hour"
            rows += [
                ("drainage", f"{shown}: {drainage_class(rate, scheme=scheme)}"),
                ("called so by", self.garden.say(DRAINAGE_SOURCES[scheme])),
            ]
        if soil.organic_matter_percent is not None:
            rows.append(("organic matter", f"{soil.organic_matter_percent:g} %"))
        return [*rows, ("tested", soil.source or "not said")]

    def volume_rows(self) -> list[tuple[str, str, str, str, str]]:
        """Return compost, topsoil and mulch for every bed, and for all."""
        depths = [
            self._length(b, words)
            for b, words in ((self.compost, "the compost"), (self.topsoil, "the topsoil"), (self.mulch, "the mulch"))
        ]
        beds = [(b.name, b.area) for b in layout(self.project).beds]
        if beds:
            beds.append((ALL_BEDS, sum(area for _, area in beds)))
        units = self.project.units
        rows = [
            (
                name,
                show_area(area, units),
                *(show_volume(layer_volume(area, d), units) if d else "none" for d in depths),
            )
            for name, area in beds
        ]
        return [(a, b, c, d, e) for a, b, c, d, e in rows]

    # --- helpers ------------------------------------------------------------------------------------------------

    @handler
    def _again(self, _: Any) -> None:
        self._show_what_follows()

    def _show_what_follows(self) -> None:
        self._show_tables()
        found = [*soil_findings(self.project.site.soil, scheme=self.scheme.bar.value)]
        self.facts.value = controls.table_html(("the soil", ""), self.facts_rows())
        self.volumes.value = self._volumes_html()
        found += self._depth_findings()
        try:
            found += self._show_amendment()
        finally:
            self.findings.value = controls.findings_html(found, say=self.garden.say)
        self.message.say("")

    def _show_amendment(self) -> list[Finding]:
        self.amended.value = ""
        made = self.amendment()
        if made is None:
            return []
        units = self.project.units
        rows = [
            ("spread", f"{made.material} on {self.bed.bar.value}, {show_area(made.area, units)}"),
            ("rate", _span(made.low_g_per_m2, made.high_g_per_m2, lambda g: _rate(g, units))),
            ("in all", _span(made.low_kg, made.high_kg, lambda kg: _weight(kg, units))),
            ("in how many goes", f"{made.applications}" + (", months apart" if made.applications > 1 else "")),
            ("verdict", "impractical; see the findings" if made.impractical else "can be done"),
            ("source", made.source),
        ]
        self.amended.value = controls.table_html((f"to pH {self.wanted.bar.value}", f"table “{made.table}”"), rows)
        return list(made.findings)

    def _show_tables(self) -> None:
        wanted, ph = self._wanted(), self.project.site.soil.ph
        names = (
            [] if wanted is None or ph is None or wanted == ph else list(LIME_TABLES if wanted > ph else SULPHUR_TABLES)
        )
        forms.relist(self.table, [("choose ...", None), *((n, n) for n in names)], self.table.bar.value)

    def _wanted(self) -> float | None:
        return forms.number_or_none(str(self.wanted.bar.value), "the pH wanted", low=3.0, high=9.5)

    def _area(self) -> float:
        beds = layout(self.project).beds
        if not beds:
            raise GardenError("there is no bed yet; lay paths or draw beds on the structure page first")
        return sum(b.area for b in beds if self.bed.bar.value in (ALL_BEDS, b.name))

    def _length(self, box: controls.Labelled, where: str) -> float:
        return length(str(box.bar.value) or "0", bare="in" if self.project.units == "imperial" else "cm", where=where)

    def _depth_findings(self) -> list[Finding]:
        found = list(mulch_findings(self._length(self.mulch, "the mulch"), where=ALL_BEDS))
        compost = self._length(self.compost, "the compost")
        if 0 < compost < COMPOST_LEAST - 1e-9:
            what = f"{compost:.3f} m of compost is less than the least some places ask for"
            found.append(
                Finding(where=ALL_BEDS, what=what, source=COMPOST_LEAST.source, seriousness="caution", topic="soil")
            )
        return found

    def _volumes_html(self) -> str:
        rows = self.volume_rows()
        return controls.table_html(("bed", "area", "compost", "topsoil", "mulch"), rows) if rows else ""

    def scene(self) -> Scene:
        """Return the texture triangle with this soil on it."""
        soil = self.project.site.soil
        return texture_triangle(shares_of(soil), name=soil_texture(soil) or "")

    def summary(self) -> str:
        """Return the soil in words."""
        return "\n".join(f"{name}: {value}" for name, value in self.facts_rows())


def page(session: Any) -> SoilPage:
    """Return the page for a garden."""
    return SoilPage(session)


def shares_of(soil: Soil) -> tuple[float, float, float] | None:
    """Return sand, silt and clay in percent, from the record's percentages or its jar; None when it has neither."""
    if soil.sand_percent is not None and soil.silt_percent is not None and soil.clay_percent is not None:
        return normalised(soil.sand_percent, soil.silt_percent, soil.clay_percent)
    return jar_shares(soil.jar) if soil.jar else None


def read_soil(texts: dict[str, str], old: Soil, units: System) -> Soil:
    """Return the soil that the filled-in form describes; raises GardenError for the first reading that cannot be."""
    shares = {
        k: forms.number_or_none(texts[k], k.split("_")[0], low=0, high=100, unit="percent")
        for k in ("sand_percent", "silt_percent", "clay_percent")
    }
    shown = _texts(old, units)
    rate = old.drainage_mm_per_hour if texts["drainage"] == shown["drainage"] else _read_rate(texts["drainage"], units)
    if texts["drops"]:
        rate = _read_drops(texts["drops"], units)
    return attrs.evolve(
        old,
        **shares,
        jar=_read_jar(texts["jar"], texts["timing"]),
        ph=forms.number_or_none(texts["ph"], "the pH", low=0, high=14),
        free_lime=next(k for k, v in LIME_WORDS.items() if v == texts["free_lime"]),
        drainage_mm_per_hour=rate,
        organic_matter_percent=forms.number_or_none(
            texts["organic_matter_percent"], "organic matter", low=0, high=100, unit="percent"
        ),
        source=texts["source"],
    )


def _read_jar(text: str, timing: str) -> JarReading | None:
    if not text:
        return None
    marks = [part for part in text.replace(";", ",").split(",") if part.strip()]
    if len(marks) != 3:
        raise GardenError(
            f'the jar "{text}" needs three marks: top of the sand, of the silt, of the clay, each '
            "from the bottom of the jar"
        )
    sand, silt, clay = (forms.number(m, "a mark on the jar", low=0, high=1000) for m in marks)
    return JarReading(sand_mark=sand, silt_mark=silt, clay_mark=clay, timing=timing)


def _read_drops(text: str, units: System) -> float:
    drops = [part for part in text.replace(";", ",").split(",") if part.strip()]
    bare = "in" if units == "imperial" else "mm"
    return hole_test_mm_per_hour(
        [1000 * length(d, bare=bare, where="the hole test") for d in drops], minutes_each=MINUTES
    )


def _read_rate(text: str, units: System) -> float | None:
    bare = "in" if units == "imperial" else "mm"
    return 1000 * length(text, bare=bare, where="the drainage rate") if text else None


def _texts(soil: Soil, units: System) -> dict[str, str]:
    def shown(value: float | None) -> str:
        return "" if value is None else f"{value:g}"

    rate = soil.drainage_mm_per_hour
    jar = soil.jar
    return {
        "sand_percent": shown(soil.sand_percent),
        "silt_percent": shown(soil.silt_percent),
        "clay_percent": shown(soil.clay_percent),
        "jar": f"{jar.sand_mark:g}, {jar.silt_mark:g}, {jar.clay_mark:g}" if jar else "",
        "timing": jar.timing if jar else next(iter(JAR_TIMINGS)),
        "ph": shown(soil.ph),
        "free_lime": LIME_WORDS[soil.free_lime],
        "drops": "",
        "drainage": "" if rate is None else f"{rate / INCH_MM:.3g} in" if units == "imperial" else f"{rate:.3g} mm",
        "organic_matter_percent": shown(soil.organic_matter_percent),
        "source": soil.source,
    }


def _span(low: float, high: float, show: Callable[[float], str]) -> str:
    return show(low) if show(low) == show(high) else f"{show(low)} to {show(high)}"


def _rate(grams: float, units: System) -> str:
    if units == "metric":
        return f"{grams:.0f} g/m²"
    return f"{grams / 1000 / POUND * 100 * SQUARE_FOOT:.1f} lb per 100 sq ft"


def _weight(kilograms: float, units: System) -> str:
    if units == "imperial" and kilograms < 20 * POUND:
        return f"{kilograms / POUND:.1f} lb"
    return show_weight(kilograms, units)
