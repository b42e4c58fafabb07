"""Every change of the photos of the site that the design is drawn into: their marks, and what stands in front."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.site.site_photos import InFront, PhotoMark, SitePhoto


def add_photo(project: Project, name: str, *, file: str, wide: int, high: int) -> Project:
    """Add a photo of the site by its file in the folder of site photos and its size in pixels."""
    photos = project.site.photos
    named = new_name(free_name(name, [photo.name for photo in photos]), [photo.name for photo in photos], "photo")
    return _photos(project, (*photos, SitePhoto(name=named, file=file, wide=wide, high=high)))


def change_photo(project: Project, name: str, **changes: Any) -> Project:
    """Give a photo another ``name``, or say how many degrees it is wide (``angle``; None: found with the place)."""
    old = photo(project, name)
    if changes.get("name", name) != name:
        changes["name"] = new_name(changes["name"], [one.name for one in project.site.photos], "photo")
    return _put(project, name, attrs.evolve(old, **changes))


def remove_photo(project: Project, name: str) -> Project:
    """Take a photo off the record; its file stays in the folder."""
    photo(project, name)
    return _photos(project, without(project.site.photos, name))


def mark_photo(project: Project, name: str, mark: PhotoMark) -> Project:
    """Mark a known place on a photo; a mark of the same name is put where this one is."""
    old = photo(project, name)
    named = attrs.evolve(mark, name=new_name(mark.name, (), "mark"))
    known = {one.name for one in old.marks}
    marks = put(old.marks, named.name, named) if named.name in known else (*old.marks, named)
    return _put(project, name, attrs.evolve(old, marks=marks))


def remove_mark(project: Project, name: str, mark: str) -> Project:
    """Take a mark off a photo."""
    old = photo(project, name)
    by_name(old.marks, mark, f'mark on photo "{name}"')
    return _put(project, name, attrs.evolve(old, marks=without(old.marks, mark)))


def outline_in_front(project: Project, name: str, ring: Line, *, of: str = "") -> Project:
    """Outline what stands in front on a photo: a tree to keep by its name, or anything; pixels right and down.

    Raises GardenError for fewer than three corners or a tree that is not there.
    """
    if len(ring) < 3:
        raise GardenError("click at least three corners round what stands in front")
    if of:
        by_name(project.site.trees, of, "tree")
    old = photo(project, name)
    others = tuple(one for one in old.in_front if not of or one.of != of)
    return _put(project, name, attrs.evolve(old, in_front=(*others, InFront(ring=ring, of=of))))


def remove_outlines(project: Project, name: str) -> Project:
    """Take everything off a photo that was outlined as in front."""
    return _put(project, name, attrs.evolve(photo(project, name), in_front=()))


def photo(project: Project, name: str) -> SitePhoto:
    """Return a photo by its name. Raises GardenError naming the nearest known one."""
    return by_name(project.site.photos, name, "photo of the site")


def _put(project: Project, name: str, new: SitePhoto) -> Project:
    return _photos(project, put(project.site.photos, name, new))


def _photos(project: Project, photos: tuple[SitePhoto, ...]) -> Project:
    return attrs.evolve(project, site=attrs.evolve(project.site, photos=photos))
