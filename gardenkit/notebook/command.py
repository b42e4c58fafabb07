"""The console command ``gardenkit``: open the workbook, make a garden, list the examples, write its documents."""

import argparse
import contextlib
import json
import os
import shutil
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path

from gardenkit import __version__, storage
from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.notebook.gardens import GARDEN_VARIABLE
from gardenkit.notebook.notebooks import notebooks_of, opened_by
from gardenkit.progress import Tell
from gardenkit.project.handing_over import Edition
from gardenkit.start import waited_for
from gardenkit.storage.files import trouble

LAB_OPTIONS = (
    # A burst of more than 1,000 messages a second would be cut by the server and freeze a live plan for good.
    "--ZMQChannelsWebsocketConnection.iopub_msg_rate_limit=0",
    "--ServerApp.ip=127.0.0.1",
    "--Application.log_level=ERROR",  # the address, and what goes wrong: our lines are read, not the log of a server
    "--Application.log_format=%(message)s",
    "--ServerApp.answer_yes=True",  # one Ctrl-C closes it, as we say: every change is saved as it is made
    "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
)
LAB_SETTINGS: dict[str, dict[str, object]] = {
    # JupyterLab asks every newcomer whether to fetch its news; nothing here needs the network, so the answer is given
    # beforehand.
    "@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False},
    # Presses are answered in the kernel's own thread. In a thread of their own (as JupyterLab 4.6 has it with ipykernel
    # 7.4) one in two of the large changes sent to a plan soon after others never arrived: counted in the browser tests.
    "@jupyterlab/apputils-extension:kernels-settings": {"commsOverSubshells": "disabled"},
    # A live plan must stay on the page while one scrolls; our notebooks are short, so nothing is gained by taking
    # cells off it.
    "@jupyterlab/notebook-extension:tracker": {"windowingMode": "none"},
}
# A kernel warns at the terminal that its messages are not encrypted; they are signed and never leave this computer.
KERNEL_SETTINGS: dict[str, dict[str, object]] = {"IPKernelApp": {"log_level": 40}}


def main(arguments: list[str] | None = None) -> int:
    """Run the command; returns the exit code. Problems are one sentence on standard error, never a traceback."""
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except GardenError as error:
        sys.stderr.write(f"gardenkit: {error}\n")
        return 1
    except OSError as error:
        sys.stderr.write(f"gardenkit: {trouble(error)}\n")
        return 1
    except Exception as error:  # noqa: BLE001 - the outermost boundary: no traceback may reach the designer
        sys.stderr.write(f"gardenkit made a mistake ({type(error).__name__}: {error}); please report this sentence\n")
        return 1
    except KeyboardInterrupt:
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="gardenkit", description="A design workbook for home gardens.")
    parser.add_argument("--version", action="version", version=f"gardenkit {__version__}")
    tasks = parser.add_subparsers(title="what to do", required=True)
    task = tasks.add_parser(
        "open", help="open the workbook on a garden folder (default: your copy of the first example)"
    )
    task.add_argument("folder", nargs="?", type=Path)
    task.add_argument("--no-browser", action="store_true", help="start the server only and show its address")
    task.set_defaults(run=open_workbook)
    task = tasks.add_parser("new", help="make an empty garden folder")
    task.add_argument("folder", type=Path)
    task.add_argument("--name", default="", help="the garden's name (default: the folder's)")
    task.add_argument("--units", default="imperial", help="imperial or metric")
    task.set_defaults(run=new)
    task = tasks.add_parser("examples", help="list the example gardens, or copy one into a folder")
    task.add_argument("--copy", metavar="NAME", help="the example to copy")
    task.add_argument("folder", nargs="?", type=Path, help="where to")
    task.set_defaults(run=list_examples)
    task = tasks.add_parser("render", help="write a garden's client copy, or its notebooks, as HTML, without a browser")
    task.add_argument("folder", type=Path)
    task.add_argument("--to", type=Path, help="the file to write (default: client_copy.html in the garden folder)")
    task.add_argument("--office", action="store_true", help="the office edition: every figure, warning and source")
    task.add_argument("--notebooks", action="store_true", help="every notebook, run, as one HTML file each, no code")
    task.add_argument("--films", action="store_true", help="with a film of fifteen years and a walk (takes minutes)")
    task.add_argument("--area", default="", help="tell of one area of the property alone, the rest faded")
    task.set_defaults(run=render)
    task = tasks.add_parser("bundle", help="write every document of a garden into its folder 'documents'")
    task.add_argument("folder", type=Path)
    task.add_argument("--to", type=Path, help="the folder to write into (default: documents in the garden folder)")
    task.add_argument("--area", default="", help="tell of one area of the property alone, the rest faded")
    task.add_argument("--notebooks", action="store_true", help="with every notebook, run, no code (takes minutes)")
    task.add_argument("--revision", default="", help="the revision on every document (default: the garden's own)")
    task.set_defaults(run=bundle)
    task = tasks.add_parser("figures", help="print how the planting covers, layers, groups and repeats, in figures")
    task.add_argument("folder", type=Path)
    task.add_argument("--proposals", action="store_true", help="of four proposals for its palette too (takes a minute)")
    task.set_defaults(run=figures)
    task = tasks.add_parser("options", help="write the structures kept side by side, as one page for the client")
    task.add_argument("folder", type=Path)
    task.add_argument("--to", type=Path, help="the file to write (default: options.html in the garden folder)")
    task.set_defaults(run=write_options)
    task = tasks.add_parser("recover", help="rebuild a damaged project file from its last good copy and history")
    task.add_argument("folder", type=Path)
    task.set_defaults(run=recover)
    return parser


def open_workbook(options: argparse.Namespace) -> int:
    """Start JupyterLab on the chosen garden, in its own copy of the notebooks."""
    folder = (options.folder or gardens.working_copy()).resolve()
    storage.load(folder)
    notebooks, told = notebooks_of(folder)
    if told:
        sys.stderr.write(f"gardenkit: {told}\n")
    command = [sys.executable, "-m", "jupyterlab", *LAB_OPTIONS, f"--ServerApp.root_dir={notebooks}"]
    command.append("--LabApp.default_url=/lab/tree/00_start.ipynb")
    if hasattr(os, "geteuid") and os.geteuid() == 0:  # as in a container, where there is no other user
        command.append("--allow-root")
    if options.no_browser:
        command.append("--no-browser")
    settle_lab()
    sys.stderr.write(f"gardenkit: opening {folder}; close with Ctrl-C here\n")
    os.environ[GARDEN_VARIABLE] = str(folder)
    gardens.forget_choice()
    return waited_for(command)


def settle_lab() -> None:
    """Give JupyterLab and its kernels gardenkit's settings, in an environment made for it only (of venv, or of conda by
    name) and never over settings that are there.
    """
    if sys.prefix == sys.base_prefix and Path(sys.prefix).parent.name != "envs":
        return
    _settle(Path(sys.prefix) / "share" / "jupyter" / "lab" / "settings" / "overrides.json", LAB_SETTINGS)
    _settle(Path(sys.prefix) / "etc" / "ipython" / "ipython_kernel_config.json", KERNEL_SETTINGS)


def _settle(path: Path, settings: dict[str, dict[str, object]]) -> None:
    try:
        there = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
        if settings.keys() <= there.keys():
            return
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(settings | there, indent=1), encoding="utf-8")
    except (OSError, ValueError, AttributeError):
        return  # an environment that cannot be written to, or settings that cannot be read: the usual settings hold


def new(options: argparse.Namespace) -> int:
    """Make an empty garden."""
    from gardenkit.front import making

    folder = making.new(options.folder, name=options.name, units=options.units).folder
    sys.stdout.write(f"made {folder}; open it with: {opened_by(folder)}\n")
    return 0


def list_examples(options: argparse.Namespace) -> int:
    """List the examples, or copy one."""
    if options.copy and not options.folder:
        raise GardenError("name the folder to copy the example into: gardenkit examples --copy NAME FOLDER")
    if options.copy:
        gardens.copy_garden(gardens.example(options.copy), options.folder)
        sys.stdout.write(f"copied to {options.folder}\n")
        return 0
    for folder in gardens.examples():
        sys.stdout.write(f"{folder.name}: {storage.load(folder).project.name}\n")
    return 0


def render(options: argparse.Namespace) -> int:
    """Write the client copy."""
    from gardenkit.garden import Garden
    from gardenkit.handover import booklet

    if options.notebooks:
        return render_notebooks(options)
    garden = Garden.open(options.folder)
    part = garden.of_area(options.area) if options.area else garden
    edition: Edition = "office" if options.office else "client"
    target = options.to or options.folder / f"{edition}_copy.html"
    with told_on_the_console("nothing was written, what was there before is as it was") as tell:
        size = booklet.write(part, target, edition=edition, with_films=options.films, tell=tell)
    sys.stdout.write(f"wrote {target} ({size / 1e6:.1f} MB)\n")
    return 0


def render_notebooks(options: argparse.Namespace) -> int:
    """Write every notebook as it shows the garden."""
    from gardenkit.notebook import rendered

    folder = options.to or options.folder / rendered.FOLDER
    with told_on_the_console("nothing was written, what was there before is as it was") as tell:
        written = rendered.write(options.folder, folder, tell=tell)
    sys.stdout.writelines(f"wrote {path} ({path.stat().st_size / 1e6:.1f} MB)\n" for path in written)
    return 0


def bundle(options: argparse.Namespace) -> int:
    """Write every document."""
    from gardenkit.garden import Garden
    from gardenkit.handover import bundle as documents
    from gardenkit.notebook import rendered

    garden = Garden.open(options.folder)
    part = garden.of_area(options.area) if options.area else garden
    folder = options.to or options.folder / documents.FOLDER
    also = (rendered.for_bundle(options.folder),) if options.notebooks else ()
    with told_on_the_console(f"each document in {folder} is whole, from now or from before") as tell:
        written = documents.write(part, folder, revision=options.revision, also=also, tell=tell)
    sys.stdout.writelines(f"wrote {path}\n" for path in written)
    return 0


def figures(options: argparse.Namespace) -> int:
    """Print the figures of the planting as it stands, and of proposals where they are asked for."""
    from gardenkit.garden import Garden
    from gardenkit.notebook import composition_printed

    garden = Garden.open(options.folder)
    with told_on_the_console("nothing was changed") as tell:
        lines = composition_printed.lines(garden, proposals=options.proposals, tell=tell)
    sys.stdout.writelines(f"{line}\n" for line in lines)
    return 0


def write_options(options: argparse.Namespace) -> int:
    """Write the page of options."""
    from gardenkit.garden import Garden
    from gardenkit.handover import options as side_by_side

    target = options.to or options.folder / side_by_side.FILE
    with told_on_the_console("nothing was written, what was there before is as it was") as tell:
        size = side_by_side.write(Garden.open(options.folder), target, tell=tell)
    sys.stdout.write(f"wrote {target} ({size / 1e6:.1f} MB)\n")
    return 0


@contextlib.contextmanager
def told_on_the_console(left: str) -> Iterator[Tell]:
    """Give what tells on standard error how far work has come: one line that is written anew at a console, a line for
    each step elsewhere. Ctrl-C stops the work; ``left`` says what then stands.
    """
    at_console, last = sys.stderr.isatty(), ""

    def tell(share: float, words: str) -> None:
        nonlocal last
        if at_console:
            room = max(shutil.get_terminal_size().columns - len("100%   (Ctrl-C stops)") - 1, 8)
            sys.stderr.write(f"\r\033[K{share:4.0%}  {textwrap.shorten(words, room, placeholder='...')} (Ctrl-C stops)")
        elif words != last:
            sys.stderr.write(f"{share:4.0%}  {words}\n")
        last = words
        sys.stderr.flush()

    try:
        yield tell
    except KeyboardInterrupt:
        sys.stderr.write(f"\ngardenkit: stopped as you asked; {left}\n")
        raise
    finally:
        if at_console:
            sys.stderr.write("\r\033[K")


def recover(options: argparse.Namespace) -> int:
    """Rebuild a damaged project file."""
    aside = storage.recover(options.folder)
    kept = f"; the damaged file is kept as {aside.name}" if aside.exists() else ""
    sys.stdout.write(f"{options.folder} is whole again{kept}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
