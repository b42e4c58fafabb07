"""The style as settings: begun from trade styles, mixed by shares, each leaning turned by itself."""

from functools import partial
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit import reading
from gardenkit.brief.styles import STYLES
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages.planting import kind_named
from gardenkit.notebook.part import Part
from gardenkit.project.edits import brief as edits

if TYPE_CHECKING:
    from gardenkit.notebook.pages.style import StylePage

WORDS = {
    "curving": ("How curving", "straight", "winding"),
    "formal": ("How formal", "loose", "clipped"),
    "symmetry": ("How alike both sides", "free", "alike"),
    "fullness": ("How full the beds", "open ground", "packed"),
    "evergreen_share": ("Wanted share with winter leaves", "none", "all"),
    "natives_share": ("Wanted share of natives", "none", "all"),
    "strict": ("How strict the colours", "any", "only these"),
    "texture": ("Leaves", "fine", "coarse"),
    "variety": ("Kinds of plants", "few", "many"),
    "repetition": ("Repetition", "each once", "again and again"),
    "boldness": ("Masses", "finely woven", "large"),
}
NO_SECOND = ("not mixed", None)


class Settings(Part):
    """From which style it begins, mixed with which, its leanings, materials, forms and signature plants."""

    page: "StylePage"

    def build(self) -> None:
        """Make the widgets, once."""
        names = [(name, name) for name in STYLES]
        self.start = controls.choice("Begin from a style", None, [("choose ...", None), *names], self.begin)
        self.second = controls.choice("Mixed with", None, [NO_SECOND, *names], self.begin_again, name="style-mixed")
        self.share = controls.slider(
            "Share of the first", 0.6, 0.05, 0.95, 0.05, self.begin_again, show="{:.0%}".format, live=False, name="mix"
        )
        self.leanings = {
            key: controls.slider(
                f"{words}, {low} to {high}",
                0.5,
                0,
                1,
                0.05,
                partial(self.lean, key),
                show="{:.0%}".format,
                live=False,
                name=key,
            )
            for key, (words, low, high) in WORDS.items()
        }
        self.materials = controls.field(
            "Materials, the first for new paths", "", self.set_materials, name="materials", hint="gravel, brick"
        )
        self.most = controls.field("Of how many materials at most", "", self.set_most, name="most", hint="any number")
        self.forms = controls.field("Forms favoured", "", self.set_forms, name="forms", hint="spire, mound, fountain")
        self.signature = controls.field(
            "Signature plants", "", self.set_signature, name="signature", hint="botanical names, with commas between"
        )
        fields = [self.materials, self.most, self.forms, self.signature]
        self.controls = [self.start, self.second, self.share, *self.leanings.values(), *fields]
        self.table = w.HTML(layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Show the style as it stands."""
        chosen = self.project.brief.style
        for key, box in self.leanings.items():
            box.show(getattr(chosen, key))
        self.materials.show(", ".join(chosen.materials))
        self.most.show(str(chosen.materials_most) if chosen.materials_most else "")
        self.forms.show(", ".join(chosen.forms))
        self.signature.show(", ".join(chosen.signature))
        self.share.layout.display = "none" if self.second.bar.value is None else ""
        words = f" ({escaped(', '.join(chosen.words))})" if chosen.words else ""
        self.table.value = f'<p class="gk-label"><b>Style: {escaped(chosen.name or "not named yet")}</b>{words}</p>'
        self.table.value += self._signature() if chosen.signature else ""

    # ---- handlers

    def begin(self, name: str | None) -> None:
        """Take the settings of a starting style, mixed with a second where one is chosen; colours stay."""
        self.start.show(name)
        self.begin_again(None)

    @handler
    def begin_again(self, _: object) -> None:
        """Take the settings of the two styles by their shares."""
        name, second, share = self.start.bar.value, self.second.bar.value, float(self.share.bar.value)
        self.share.layout.display = "none" if second is None else ""
        if name is None:
            if second is not None:
                raise GardenError("choose the style to begin from first")
        elif second is None or second == name:
            self.edit(f"begin from {name}", lambda p: edits.begin_style(p, name))
        else:
            parts = ((name, share), (second, 1 - share))
            self.edit(f"mix {name} with {second}", lambda p: edits.mix_styles(p, parts), gesture="mix styles")

    def lean(self, key: str, value: float) -> None:
        """Change one leaning."""
        self.edit(WORDS[key][0].lower(), lambda p: edits.adjust_style(p, key, value), gesture=f"style {key}")

    def set_materials(self, text: str) -> None:
        """Say what paths and places are to be made of."""
        self.edit("materials", lambda p: edits.set_materials(p, text.split(",")))

    @handler
    def set_most(self, text: str) -> None:
        """Say of how many materials at most."""
        most = reading.whole(text, "the number of materials", low=0, high=20) if text.strip() else 0
        self.edit("how many materials", lambda p: edits.set_materials_most(p, most))

    @handler
    def set_forms(self, text: str) -> None:
        """Favour growth forms in the choice of plants. Raises GardenError for one that no plant has."""
        typed = [word.strip().lower() for word in text.split(",") if word.strip()]
        self.edit("forms favoured", lambda p: edits.set_forms(p, typed))

    @handler
    def set_signature(self, text: str) -> None:
        """Name the plants that make the style known. Raises GardenError for one that the catalogue does not know."""
        names = [kind_named(self.garden.catalogue, word).botanical for word in text.split(",") if word.strip()]
        self.edit("signature plants", lambda p: edits.set_signature(p, names))

    def _signature(self) -> str:
        """Return the signature plants with the role each plays, and which of the mixed styles it stands for."""
        chosen, there = self.project.brief.style, {species.botanical for species in self.garden.kinds}
        of = {plant: part.name for part in chosen.mixed for plant in part.signature}
        kinds = [self.garden.catalogue[name] for name in chosen.signature if name in self.garden.catalogue]
        rows = [
            (s.botanical, s.common, s.role, of.get(s.botanical, ""), "planted" if s.botanical in there else "")
            for s in kinds
        ]
        heads = ("signature plant", "", "role", "style" if of else "", "")
        return controls.table_html(heads, rows)
