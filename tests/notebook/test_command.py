"""The console command: one sentence for every problem, and a client copy without a browser."""

import ast
import contextlib
import datetime as dt
import json
import os
import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from pypdf import PdfReader
from waiting import wait_until

from gardenkit import start, storage
from gardenkit.notebook import command, gardens, rendered
from gardenkit.notebook.session import Session
from gardenkit.progress import Tell


def run(*arguments: str) -> int:
    return command.main(list(arguments))


def test_a_new_garden_is_made_in_the_units_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("new", str(tmp_path / "plot"), "--units", "metric", "--name", "Plot nine") == 0
    project, now = storage.load(tmp_path / "plot").project, dt.datetime.now().astimezone()
    assert project.units == "metric"
    assert 0 < (project.planting.first_year - now.year) * 12 + 7 - now.month <= 12  # July of that year is yet to come
    assert "gardenkit open" in capsys.readouterr().out


@pytest.mark.skipif(os.name != "posix", reason="another shell quotes otherwise")
@pytest.mark.parametrize("name", ["plot", "Jardin d'été", 'two "words"', "$HOME"])
def test_the_command_that_opens_a_new_garden_can_be_typed_as_it_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    assert run("new", str(tmp_path / name)) == 0
    told = capsys.readouterr().out.strip().rpartition("open it with: ")[2]
    assert shlex.split(told) == ["gardenkit", "open", str(tmp_path / name)]


def test_problems_are_one_sentence_and_exit_code_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("new", str(tmp_path), "--units", "imperail") == 1
    assert 'the nearest known is "imperial"' in capsys.readouterr().err
    assert run("render", str(tmp_path)) == 1
    err = capsys.readouterr().err
    assert "holds no garden" in err
    assert err.count("\n") == 1
    assert run("examples", "--copy", "fennel_street_corner") == 1
    assert "name the folder" in capsys.readouterr().err


def test_the_examples_are_listed_and_copied(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("examples") == 0
    assert "fennel_street_corner: Fennel Street corner" in capsys.readouterr().out
    assert run("examples", "--copy", "fennel_street_corner", str(tmp_path / "mine")) == 0
    assert run("examples", "--copy", "fennel_street_corner", str(tmp_path / "mine")) == 1
    assert "already holds a garden" in capsys.readouterr().err


def test_a_client_copy_is_rendered_without_a_browser(
    tmp_path: Path, settled: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("render", str(settled.folder), "--to", str(tmp_path / "copy.html")) == 0
    assert "Fennel Street corner" in (tmp_path / "copy.html").read_text(encoding="utf-8")
    assert "wrote" in capsys.readouterr().out


def test_options_are_asked_for_where_there_are_none(few: Session, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("options", str(few.folder)) == 1
    assert "nothing is kept beside the structure as it stands" in capsys.readouterr().err
    assert not (few.folder / "options.html").exists()


def test_the_bundle_holds_every_document_and_says_what_each_is_for(
    settled: Session, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The notebooks, which take a kernel each, are run in tests/notebook/test_rendered.py."""

    def ran(folder: Path, target: Path, *, tell: Tell) -> tuple[Path, ...]:
        tell(0.5, "running 00_start ...")
        target.mkdir()
        (target / "00_start.html").write_text(f"of {folder.name}" * 50, encoding="utf-8")
        return (target / "00_start.html",)

    monkeypatch.setattr(rendered, "write", ran)
    assert run("bundle", str(settled.folder), "--notebooks") == 0
    folder = settled.folder / "documents"
    names = {p.name for p in folder.iterdir()}
    sheets = {
        "client_copy.html",
        "office_copy.html",
        "drawing_set.pdf",
        "planting_plan.pdf",
        "gardeners_sheet.pdf",
        "setting_out.pdf",
        "setting_out.csv",
    }
    sheets |= {
        "plants.csv",
        "plan.svg",
        "plan.dxf",
        "plan.geojson",
        "contractor_pack.zip",
        "nursery_pack.zip",
        "gardener_pack.zip",
    }
    assert names == sheets | {"schedules.xlsx", "schedules", "notebooks", "care.ics", "READ_ME.txt"}
    read_me = (folder / "READ_ME.txt").read_text(encoding="utf-8")
    assert all(f"{name}: " in read_me for name in names - {"READ_ME.txt"})
    assert "not written" not in read_me and "--notebooks" not in read_me
    assert {"00_start.html", *(p.name for p in (folder / "schedules").iterdir())} <= set(
        re.findall(r"\w+\.\w+", read_me)
    )
    bound = "".join(page.extract_text() for page in PdfReader(folder / "drawing_set.pdf").pages[:1])
    for title in ("Existing and removals", "Levels and earthworks", "Sections and details", "Irrigation"):
        assert title in bound and title in read_me
    assert all(p.stat().st_size > 200 for p in folder.iterdir())
    assert {p.suffix for p in (folder / "schedules").iterdir()} == {".csv"}
    said = capsys.readouterr()
    assert said.out.count("wrote") == 19 and "70%  running 00_start" in said.err


def test_a_bundle_of_an_empty_garden_names_what_it_cannot_write(tmp_path: Path) -> None:
    run("new", str(tmp_path / "plot"))
    assert run("bundle", str(tmp_path / "plot")) == 0
    read_me = (tmp_path / "plot" / "documents" / "READ_ME.txt").read_text(encoding="utf-8")
    assert "setting_out.pdf: not written, " in read_me and "bundle FOLDER --notebooks" in read_me
    assert not (tmp_path / "plot" / "documents" / "setting_out.pdf").exists()


def test_the_figures_of_a_planting_are_printed_in_the_units_of_the_garden(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert command.main(["figures", str(gardens.example("lantern_lane_strip"))]) == 0
    said = capsys.readouterr().out
    for words in (
        "ground closed in year 3",
        "tall in front",
        "groups of a kind",
        "single dots",
        "in a ring of one kind",
    ):
        assert words in said
    assert "0.0 m" not in said  # which drifts stand there is not known
    command.main(["new", str(tmp_path / "bare")])
    assert command.main(["figures", str(tmp_path / "bare")]) == 1
    assert "nothing is planted in the beds yet" in capsys.readouterr().err


def test_a_damaged_garden_is_recovered(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run("new", str(tmp_path / "plot"))
    storage.edit(tmp_path / "plot", "name", lambda p: type(p)(name="kept"))
    (tmp_path / "plot" / "garden.json").write_text("{", encoding="utf-8")
    assert run("recover", str(tmp_path / "plot")) == 0
    assert storage.load(tmp_path / "plot").project.name == "kept"
    assert "whole again" in capsys.readouterr().out


def test_the_set_up_file_needs_nothing_but_python() -> None:
    tree = ast.parse((Path(command.__file__).parents[1] / "start.py").read_text(encoding="utf-8"))
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert imported
    assert {name.split(".")[0] for name in imported} <= sys.stdlib_module_names


def test_a_python_that_is_too_old_comes_as_far_as_the_sentence_that_says_so() -> None:
    package = Path(command.__file__).parents[1]
    for name in ("__init__.py", "start.py"):
        source = (package / name).read_text(encoding="utf-8")
        tree = ast.parse(source, feature_version=(3, 8))
        assert "\nfrom __future__ import annotations" in source, name  # so that types are not worked out there
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                node.returns = None
            if isinstance(node, ast.arg):
                node.annotation = None
        assert not any(isinstance(node, ast.BitOr) for node in ast.walk(tree)), name  # of dicts: 3.9


def test_a_python_without_ensurepip_is_told_in_one_sentence_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(start, "ROOT", tmp_path)
    (tmp_path / "pyproject.toml").write_text("", encoding="utf-8")
    monkeypatch.setattr(start, "find_spec", lambda name: None)
    assert start.main(["open"]) == 1
    said = capsys.readouterr().err
    assert "lacks ensurepip" in said
    assert f"python3.{sys.version_info[1]}-venv" in said
    assert said.count("\n") == 1
    assert not (tmp_path / ".venv").exists()


def test_an_unknown_task_is_told_the_two_there_are() -> None:
    done = subprocess.run([sys.executable, "-m", "gardenkit.start", "fly"], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "open [FOLDER] | test" in done.stderr


@pytest.mark.parametrize("own", ["venv", "conda"])
def test_the_labs_settings_are_added_beside_those_that_are_there_and_never_over_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, own: str
) -> None:
    prefix = tmp_path / "envs" / "garden"
    monkeypatch.setattr(sys, "prefix", str(prefix))
    monkeypatch.setattr(sys, "base_prefix", str(prefix if own == "conda" else tmp_path))
    path = prefix / "share" / "jupyter" / "lab" / "settings" / "overrides.json"
    command.settle_lab()
    assert json.loads(path.read_text()) == command.LAB_SETTINGS
    kernels = prefix / "etc" / "ipython" / "ipython_kernel_config.json"
    assert json.loads(kernels.read_text()) == {"IPKernelApp": {"log_level": 40}}
    tracker = "@jupyterlab/notebook-extension:tracker"
    theirs = {"theirs": {"a": 1}, tracker: {"windowingMode": "full"}}
    path.write_text(json.dumps(theirs))
    command.settle_lab()
    assert json.loads(path.read_text()) == command.LAB_SETTINGS | theirs
    path.write_text("not settings")
    command.settle_lab()
    assert path.read_text() == "not settings"


def test_the_lab_of_the_whole_machine_is_left_as_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "prefix", str(tmp_path))
    monkeypatch.setattr(sys, "base_prefix", str(tmp_path))
    command.settle_lab()
    assert list(tmp_path.iterdir()) == []


def answers(address: str) -> bool:
    try:
        with urlopen(address, timeout=60) as answer:
            return bool(answer.status == 200)
    except URLError:
        return False


@pytest.mark.skipif(os.name != "posix", reason="groups of processes exist on POSIX only")
def test_the_first_terminal_shows_our_lines_and_the_address_and_no_log_of_a_server(tmp_path: Path) -> None:
    folder = tmp_path / "Jardin d'été"
    assert command.main(["new", str(folder)]) == 0
    run = [sys.executable, "-m", "gardenkit.notebook.command", "open", "--no-browser", str(folder)]
    keys, keyboard = os.openpty()  # only where there is a keyboard does the server ask back before it closes
    pipe = subprocess.PIPE
    said: list[str] = []
    with subprocess.Popen(
        run, stdin=keyboard, stdout=pipe, stderr=subprocess.STDOUT, text=True, start_new_session=True
    ) as server:
        try:
            assert server.stdout is not None
            while "http://127.0.0.1" not in "".join(said):
                said.append(server.stdout.readline().strip())
            wait_until(lambda: answers(said[-1]))  # it says its address a little before
            os.killpg(server.pid, signal.SIGINT)  # what Ctrl-C sends, once, to the command and the server it started
            said += [line.strip() for line in server.stdout]
            assert server.wait(30) == 0
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(server.pid, signal.SIGKILL)
    os.close(keys)
    os.close(keyboard)
    assert f"gardenkit: opening {folder}; close with Ctrl-C here" in said
    assert [line for line in said if re.match(r"\W*\[", line) or "y/[n]" in line] == []
    assert 2 <= len([line for line in said if line]) <= 8


def test_progress_stays_in_its_line_at_a_narrow_terminal(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    with command.told_on_the_console("nothing was written") as tell:
        tell(1.0, "drawing option B: the long path round the old pear ...")
        tell(0.5, "drawing ...")
    lines = capsys.readouterr().err.split("\r\033[K")[1:3]
    assert lines == ["100%  drawing option... (Ctrl-C stops)", " 50%  drawing ... (Ctrl-C stops)"]


def test_installing_says_that_it_still_works_and_what_it_ended_with(capsys: pytest.CaptureFixture[str]) -> None:
    start.install([sys.executable, "-c", "import time; time.sleep(0.25)"], between=0.1)
    assert "still installing, 2 min so far" in capsys.readouterr().err
    with pytest.raises(start.FailedError, match="pip ended with 3"):
        start.install([sys.executable, "-c", "raise SystemExit(3)"])
