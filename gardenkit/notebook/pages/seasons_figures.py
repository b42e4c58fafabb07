"""The planting in figures: which side of a path is heavier, how varied it is, what there is to look at in winter."""

import ipywidgets as w

from gardenkit.notebook import controls
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.planting import months_words, rich_table, swatches, title
from gardenkit.notebook.part import Part
from gardenkit.planting.diversity import ENOUGH
from gardenkit.project.planting_figures import SEASONS, Figures, Share, sides

EVEN = 0.05  # of the whole mass either way is no lean to speak of. House value.
ROUNDING = 1e-9


class PlantingFigures(Part):
    """Three tables beside each other; empty while nothing is planted."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.sides, self.balance, self.winter = w.HTML(), w.HTML(), w.HTML()
        self.widget = forms.beside(self.sides, self.balance, self.winter)

    def refresh(self) -> None:
        """Show the figures of the planting as it stands."""
        found = self.garden.figures()
        if found is None:
            self.sides.value = self.balance.value = self.winter.value = ""
            return
        self.sides.value = title("Left and right of the path") + self._sides()
        self.balance.value = title("Balance and variety, year 10") + controls.table_html(("", "", ""), _rows(found))
        self.winter.value = title("Winter interest") + self._winter()

    def _sides(self) -> str:
        told = sides(self.garden.project, self.garden.catalogue)
        rows = [(one.path, one.year, *(_lean(one.left[season]) for season in SEASONS)) for one in told]
        return controls.table_html(("path", "year", *SEASONS), rows) if rows else controls.label("no path yet").value

    def _winter(self) -> str:
        rows = [
            (
                r.botanical,
                r.count,
                ", ".join(r.interest),
                swatches((r.foliage,) if r.foliage else ()),
                months_words(r.fruit),
                months_words(r.flowers),
            )
            for r in self.garden.winter
        ]
        heads = ("kind", "plants", "to look at", "leaf or stem", "fruit", "flower")
        return (
            rich_table(heads, rows) if rows else controls.label("Nothing stands out from December to February.").value
        )


def _rows(found: Figures) -> list[tuple[str, str, str]]:
    varied, pairs = found.diversity, f"of {found.neighbours} pairs"
    rows = [
        ("evergreen plants", f"{found.evergreen:.0%}", "of all plants; about a third is usual"),
        ("evergreen in the winter picture", f"{found.evergreen_mass:.0%}", "of what stands in January"),
        ("neighbours of another leaf texture", f"{found.texture_contrast:.0%}", pairs),
        ("neighbours with another form", f"{found.form_contrast:.0%}", pairs),
        ("textures", ", ".join(f"{v:.0%} {k}" for k, v in found.textures.items()), ""),
        ("as varied as", f"{varied.effective_kinds:.1f} even kinds", f"Shannon index {varied.shannon:.2f}"),
        ("chance that two differ", f"{varied.simpson:.0%}", "of two plants taken at random, in kind; Simpson index"),
    ]
    commonest = f"of {found.woody} woody"
    rows += [
        (f"commonest {s.rank} {commonest}", f"{s.name} {s.share:.0%}", _rule(s, found.woody)) for s in found.shares
    ]
    return rows


def _lean(left: float | None) -> str:
    if left is None:
        return "nothing"
    if abs(left - 0.5) < EVEN:
        return "even"
    return f"{left:.0%} left" if left > 0.5 else f"{1 - left:.0%} right"


def _rule(one: Share, woody: int) -> str:
    word = "within" if one.share <= one.most + ROUNDING else "above"
    few = f"; it says little of fewer than {ENOUGH:.0f}" if woody < ENOUGH else ""
    return f"{word} the {one.most:.0%} of the 10-20-30 rule{few}"
