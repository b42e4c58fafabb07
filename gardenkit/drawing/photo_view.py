"""The design drawn into a photo of the site: painted from where it was taken, hidden behind what stands there."""

import base64
import html
import math
from functools import cached_property

import attrs
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

from gardenkit.drawing.painted.built import Surveyor
from gardenkit.drawing.painted.ground import LAND, OPEN, materials
from gardenkit.drawing.painted.picture import Painted, Pixels, Quality, encoded, paint
from gardenkit.drawing.painted_view import Moment, Prospect, subject_of
from gardenkit.drawing.scene import Bounds
from gardenkit.drawing.view_ground import Stage, stage
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Planting
from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout
from gardenkit.project.solids import solids
from gardenkit.site.photo_camera import Found, Pose, camera_of, turn_of
from gardenkit.site.site_photos import SitePhoto
from gardenkit.structure.structure import Structure

MOST_ACROSS = 1200  # pixels of the longer side of what is shown. House value.
FINER = 1.5
APART = 0.03  # m: what is nearer than the place as found by more than this is new
ON_GROUND = 0.08  # m from the ground that counts as lying on it
DARKEST, BRIGHTEST = 0.45, 1.05  # how far the design's shadows change the photo. House values.
PICTURE_MM = 240.0
Shares = NDArray[np.float32]


@attrs.frozen(kw_only=True, slots=False)
class PhotoCamera(Surveyor):
    """The camera of a photo: it may lean up (degrees) and roll (right side down); its aim is the photo's middle."""

    lean: float
    roll: float
    tall: float  # mm

    @property
    def frame(self) -> Bounds:
        """The photo's edges in millimetres from its middle."""
        return -self.width / 2, -self.tall / 2, self.width / 2, self.tall / 2

    @cached_property
    def turn(self) -> FloatArray:
        """The directions right, up and ahead, one a row (3, 3)."""
        return turn_of(self.towards, self.lean, self.roll)


@attrs.frozen(kw_only=True, eq=False)
class InPhoto:
    """A photo before and after, with its camera; ``share`` (rows, columns) is how much of each pixel is drawn."""

    before: Pixels
    after: Pixels
    share: Shares
    camera: Found


def in_photo(
    project: Project,
    worked: Layout,
    catalogue: Catalogue,
    *,
    photo: SitePhoto,
    picture: Image.Image,
    when: Moment,
    most: int | None = None,
) -> InPhoto:
    """Return a photo with the garden of a moment drawn in. Raises GardenError for marks that give no camera.

    What stands there hides what lies behind it: the house and fences as they are on record, trees to keep as they are
    outlined on the photo or else on record. Trees that will go stay on the photo, and so does the ground of beds in
    which nothing is planted. The design's shadows darken it. ``most`` pixels is its longer side at most.
    """
    found = camera_of(photo)
    shown = picture.convert("RGB")
    shown.thumbnail((most or MOST_ACROSS, most or MOST_ACROSS))
    quality = Quality(across=shown.width, finer=FINER)
    scene = photo_stage(project, worked, found.pose, shown.size, when)
    outlined = {one.of for one in photo.in_front}
    site = attrs.evolve(project.site, trees=tuple(t for t in project.site.trees if t.name not in outlined))
    design = attrs.evolve(project, site=site)
    bare = attrs.evolve(design, structure=Structure(), planting=Planting())
    planted = worked.plants_by_bed(project.planting.plants)
    laid = attrs.evolve(worked, beds=tuple(bed for bed in worked.beds if planted[bed.name]))
    untouched = attrs.evolve(layout(bare), beds=())
    planned = Prospect(project=design, worked=laid, catalogue=catalogue)
    after = _painted(project, planned, scene, when, quality)
    as_is = Prospect(project=bare, worked=untouched, catalogue=catalogue)
    found_there = _painted(attrs.evolve(bare, site=project.site), as_is, scene, when, quality)
    new = _new(scene, design, laid, after.depth, found_there.depth, shown.width)
    new &= ~_hidden(photo, project, scene, after.depth)
    share = _resized(new.astype(np.float32), shown.size)
    same = _resized(np.isclose(after.depth, found_there.depth, atol=APART).astype(np.float32), shown.size)
    before = np.asarray(shown, dtype=np.uint8)
    dark = _shadows(after.pixels, found_there.pixels, same, shown.size)
    drawn = np.asarray(Image.fromarray(after.pixels).resize(shown.size), dtype=np.float32)
    mixed = before * dark[..., None] * (1 - share[..., None]) + drawn * share[..., None]
    return InPhoto(before=before, after=np.clip(mixed, 0, 255).astype(np.uint8), share=share, camera=found)


def photo_stage(project: Project, worked: Layout, pose: Pose, size: tuple[int, int], when: Moment) -> Stage:
    """Return the stage as a photo of ``size`` pixels shows it from where it was taken."""
    camera = PhotoCamera(
        eye=pose.eye,
        towards=pose.towards,
        angle=pose.angle,
        width=PICTURE_MM,
        lean=pose.lean,
        roll=pose.roll,
        tall=PICTURE_MM * size[1] / size[0],
    )
    return stage(project.site, camera, when.month, hour=when.hour, day=when.day, lie=worked.lie)


def under_one_slider(made: InPhoto, words: str) -> str:
    """Return before and after as one picture with a slider between them, as markup that needs nothing else."""
    before, after = (
        "data:image/webp;base64," + base64.b64encode(encoded(pixels)).decode("ascii")
        for pixels in (made.before, made.after)
    )
    said = html.escape(words, quote=True)
    moved = "this.previousElementSibling.lastElementChild.style.clipPath='inset(0 0 0 '+this.value+'%)'"
    return (
        f'<div class="before-after" role="group" aria-label="{said}" style="max-width:1000px">'
        '<div style="position:relative;line-height:0">'
        f'<img alt="the place as it is" src="{before}" style="width:100%;display:block">'
        f'<img alt="{said}" src="{after}" style="position:absolute;inset:0;width:100%;height:100%;'
        'clip-path:inset(0 0 0 50%)"></div>'
        '<input type="range" min="0" max="100" value="50" aria-label="from after to before" '
        f'style="width:100%;margin:6px 0" oninput="{moved}">'
        f"<p>{said}</p></div>"
    )


# ---- helpers


def _painted(whole: Project, of: Prospect, scene: Stage, when: Moment, quality: Quality) -> Painted:
    """Paint what is seen, in the shade of the whole: also of trees that the photo itself shows."""
    subject = subject_of(of, scene, when, None)
    bodies = solids(whole, of.catalogue, year=when.year)
    return paint(attrs.evolve(subject, bodies=bodies), quality, night=when.night, snow=when.snow)


def _new(
    scene: Stage, project: Project, worked: Layout, depth: Shares, as_found: Shares, across: int
) -> NDArray[np.bool_]:
    """Return which dots show something new: nearer than what is there, or ground that gets another surface."""
    camera = scene.camera
    fine = across * FINER / camera.width
    left, _, _, top = camera.frame
    rows, columns = depth.shape
    u = (left + (np.arange(columns) + 0.5) / fine) / camera.focal
    v = (top - (np.arange(rows) + 0.5) / fine) / camera.focal
    near = np.isfinite(depth)
    far = np.where(near, depth, 0.0).astype(float)
    rays = np.stack((*np.meshgrid(u, v), np.ones_like(far)), axis=2) * far[..., None]
    spots = (rays @ camera.turn + np.asarray(camera.eye)).reshape(-1, 3)
    made = materials(project, worked, ())
    at = ((spots[:, :2] - made.corner) / made.dot).astype(int)
    high, wide = made.kinds.shape
    inside = (at >= 0).all(axis=1) & (at[:, 0] < wide) & (at[:, 1] < high)
    kinds = np.where(inside, made.kinds[np.clip(at[:, 1], 0, high - 1), np.clip(at[:, 0], 0, wide - 1)], LAND)
    laid = (np.abs(spots[:, 2] - scene.ground(spots[:, :2])) < ON_GROUND) & ~np.isin(kinds, (LAND, OPEN))
    in_view = depth < as_found + APART
    return np.asarray(near & in_view & ((depth < as_found - APART) | laid.reshape(depth.shape)))


def _hidden(photo: SitePhoto, project: Project, scene: Stage, depth: Shares) -> NDArray[np.bool_]:
    """Return which dots lie behind what is outlined on the photo."""
    rows, columns = depth.shape
    hidden = np.zeros(depth.shape, dtype=bool)
    trees = {tree.name: tree for tree in project.site.trees}
    for one in photo.in_front:
        sheet = Image.new("1", (columns, rows))
        ring = [(x * columns / photo.wide, y * rows / photo.high) for x, y in one.ring]
        ImageDraw.Draw(sheet).polygon(ring, fill=1)
        tree = trees.get(one.of)
        stem = np.array([[*tree.at, scene.level(tree.at)]]) if tree is not None else None
        ahead = float(scene.camera.before(stem)[0, 2]) if stem is not None else -math.inf
        hidden |= np.asarray(sheet, dtype=bool) & (depth > ahead)
    return hidden


def _resized(shares: Shares, size: tuple[int, int]) -> Shares:
    return np.asarray(Image.fromarray(shares).resize(size, Image.Resampling.BOX), dtype=np.float32)


def _shadows(after: Pixels, before: Pixels, same: Shares, size: tuple[int, int]) -> Shares:
    """Return by how much the design darkens each pixel of what stays: painted with it against painted without it."""
    light = (after.astype(np.float32).mean(axis=2) + 4.0) / (before.astype(np.float32).mean(axis=2) + 4.0)
    sheet = Image.fromarray((100.0 * np.clip(light, DARKEST, BRIGHTEST)).astype(np.uint8)).resize(size)
    smooth = np.asarray(sheet.filter(ImageFilter.BoxBlur(1)), dtype=np.float32) / 100.0
    return np.asarray(1.0 + (smooth - 1.0) * same, dtype=np.float32)
