"""What the style asks of the later steps: how a palette is wished for, how it is arranged, how a new path begins."""

from collections.abc import Sequence

import attrs

from gardenkit.brief.style import Style
from gardenkit.brief.style_genera import genera_of
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.choosing_rules import LeastOf, Wishes
from gardenkit.planting.composing import Taste
from gardenkit.planting.composing.formal import edges_a_walk, makes_a_hedge
from gardenkit.planting.manner import Manner
from gardenkit.planting.mixing import Mix
from gardenkit.planting.winter import frame_share
from gardenkit.project import Project
from gardenkit.structure.kinds import SURFACES, ground_kind
from gardenkit.structure.structure import Structure

USUAL_FULL = 0.7  # of the ground under leaves: from here up no ground is left open on purpose. House value.
USUAL_FORMAL = 0.3  # how formal a style is where nobody says. House value.
FEWEST, MOST = 8, 32  # kinds of a palette at either end of the setting. House value.
ROUND_ABOUT = 2  # kinds more or less. House value.
SIGNATURE = 2  # signature plants that make a style known. House value.
PAIRED = 0.6  # of symmetry: from here up the signature stands in pairs on both sides. House value.
AT_HOME = 0.5  # of the kinds of a palette are of genera that one knows the style by. House value.
CLIPPED_FROM = 0.7  # of formal: from here up a palette has kinds that can be clipped. House value.
CLIPPED = 3  # such kinds. House value.
DRY_FROM, DRY = "dry stone", 0.7  # the style whose kinds bear dry ground, and the share of them. House value.
STRAIGHTEST = 0.8  # bend of a new path at the end of the setting. House value.


def manner_of(style: Style) -> Manner:
    """Return how a style leans in the choice of plants."""
    return Manner(formal=style.formal, texture=style.texture, forms=style.forms)


def wishes_of(project: Project) -> Wishes:
    """Return what the style and the budget ask of a palette, where the designer says nothing else; manner, signature
    and wants are asked in any case.
    """
    style, brief = project.brief.style, project.brief
    kinds = round(FEWEST + style.variety * (MOST - FEWEST))
    return Wishes(
        kinds_least=kinds - ROUND_ABOUT,
        kinds_most=kinds + ROUND_ABOUT,
        colours=style.colours,
        colour_share=max(0.0, 2 * style.strict - 1) if style.colours else 0.0,
        evergreen_share=style.evergreen_share,
        natives_share=style.natives_share,
        budget=brief.budget,
    )


def signature_of(style: Style) -> tuple[LeastOf, ...]:
    """Return that a palette has at least two of the style's signature plants, and one of each style it is mixed of."""
    if not style.signature:
        return ()
    still = [(part.name, tuple(name for name in part.signature if name in style.signature)) for part in style.mixed]
    each = (LeastOf(words=f"signature plants of {name}", kinds=kinds, least=1) for name, kinds in still if kinds)
    least = least_of_signature(style)
    return (LeastOf(words="signature plants of the style", kinds=style.signature, least=least), *each)


def mix_of(style: Style) -> Mix:
    """Return how the kinds of a palette go together in a style."""
    return Mix(genera=genera_of(style), signature=style.signature, strict=style.strict, frame=frame_share(style.formal))


def at_home_in(style: Style, catalogue: Catalogue) -> tuple[LeastOf, ...]:
    """Return what a style asks of most of its kinds: the genera it is known by, in formal what can be clipped, in dry
    what loves it dry.
    """
    fewest = max(1, round(FEWEST + style.variety * (MOST - FEWEST)) - ROUND_ABOUT)
    genera, found = genera_of(style), list[LeastOf]()
    kinds = [s for s in catalogue if s.is_ornamental]
    if genera:
        own = tuple(s.botanical for s in kinds if s.genus in genera)
        found.append(LeastOf(words="kinds one knows the style by", kinds=own, least=round(AT_HOME * fewest)))
    if style.formal >= CLIPPED_FROM:
        clipped = tuple(s.botanical for s in kinds if any(task.task == "shear" for task in s.care))
        found.append(LeastOf(words="kinds that can be clipped", kinds=clipped, least=CLIPPED))
        for words, serves in (("kinds for a clipped edge", edges_a_walk), ("kinds for a hedge", makes_a_hedge)):
            found.append(LeastOf(words=words, kinds=tuple(s.botanical for s in kinds if serves(s)), least=1))
    if DRY_FROM in (style.name, *(part.name for part in style.mixed if part.share >= 0.5)):
        dry = tuple(s.botanical for s in kinds if "dry" in s.moisture)
        found.append(LeastOf(words="kinds that love it dry", kinds=dry, least=round(DRY * fewest)))
    return tuple(found)


def least_of_signature(style: Style) -> int:
    """Return how many of a style's signature plants make it known."""
    return min(SIGNATURE, len(style.signature))


def in_style(taste: Taste, style: Style) -> Taste:
    """Return a way to arrange plants as the style bends it: bold or finely woven, repeated, in order, in pairs."""
    stiff = (1 - style.formal) / (1 - USUAL_FORMAL)
    return attrs.evolve(
        taste,
        boldness=taste.boldness * (0.6 + 0.8 * style.boldness),
        repetition=taste.repetition * (0.5 + style.repetition),
        order=taste.order * (0.85 + 0.5 * style.formal),
        colour=taste.colour * (0.5 + style.strict),
        slant=taste.slant * min(stiff, 1.3),
        rhythm="paired" if style.symmetry >= PAIRED else taste.rhythm,
        mirrored=taste.mirrored or style.symmetry >= PAIRED,
        clipped=taste.clipped or style.formal >= CLIPPED_FROM,
    )


def usual_curvature(style: Style) -> float:
    """Return how a new path bends where nobody says."""
    return STRAIGHTEST * style.curving


def usual_surface(style: Style, built: Sequence[str] = ()) -> str:
    """Return what a new path is made of where nobody says: the first of the style's materials that paths are made of,
    empty when there is none. With as many materials ``built`` as the style has at most, one of these comes first.
    """
    fit = [material for material in style.materials if material in SURFACES]
    used = [material for material in fit if material in built]
    full = style.materials_most and len(set(built)) >= style.materials_most
    return next(iter(used if full and used else fit), "")


def built_of(structure: Structure) -> tuple[str, ...]:
    """Return what paths and paved areas are made of, each material once."""
    laid = [path.surface for path in structure.paths]
    laid += [kind.built_as for kind in map(ground_kind, (p.kind for p in structure.ground_areas)) if kind.built_as]
    return tuple(dict.fromkeys(laid))
