"""Compiled loops are kept on disk by what the files that hold them say: a changed one is never answered by an old."""

from pathlib import Path

import numba

from gardenkit.site.sun_kernel import PACKAGE, WITH_LOOPS, kept_as


def test_every_file_with_compiled_loops_decides_where_they_are_kept() -> None:
    with_loops = {path for path in PACKAGE.rglob("*.py") if "@compiled" in path.read_text(encoding="utf-8")}
    assert with_loops <= {path for pattern in WITH_LOOPS for path in PACKAGE.glob(pattern)}
    assert numba.config.CACHE_DIR.endswith(kept_as(PACKAGE))


def test_loops_are_kept_elsewhere_once_a_file_that_holds_some_has_changed(tmp_path: Path) -> None:
    painted = tmp_path / "drawing" / "painted"
    painted.mkdir(parents=True)
    shapes, plain = painted / "shapes.py", painted / "plain.py"
    shapes.write_text("@compiled one", encoding="utf-8")
    plain.write_text("none", encoding="utf-8")
    before = kept_as(tmp_path)
    plain.write_text("none either", encoding="utf-8")
    assert kept_as(tmp_path) == before
    shapes.write_text("@compiled two", encoding="utf-8")
    assert kept_as(tmp_path) != before
