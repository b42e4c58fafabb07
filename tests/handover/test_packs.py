"""Each pack holds only its reader's part, opened here with the standard library's own reader."""

import csv
import zipfile
from pathlib import Path

from gardenkit.handover import packs


def documents(folder: Path, *names: str) -> list[Path]:
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(f"this is {name}".encode())
    return [folder / name.partition("/")[0] for name in names]


def test_each_pack_holds_its_part_and_a_read_me_that_lists_it(tmp_path: Path) -> None:
    every = {name for _, names in packs.PACKS.values() for name in names}
    others = ("client_copy.html", "office_copy.html", "schedules/findings.csv", "schedules/cost.csv")
    about = ("from: Plum Office", "planting begins: April 2027")
    made = packs.write(tmp_path, "Plum Row", documents(tmp_path, *every, *others), about=about)
    assert {path.name for path in made} == {"contractor_pack.zip", "nursery_pack.zip", "gardener_pack.zip"}
    for path in made:
        with zipfile.ZipFile(path) as pack:
            assert pack.testzip() is None
            inside = set(pack.namelist())
            told = pack.read("READ_ME.txt").decode()
            own = packs.PACKS[path.name.removesuffix("_pack.zip")][1]
            assert inside == {"READ_ME.txt", *(Path(name).name for name in own)}
            assert told.startswith("Plum Row: for the ") and told.split("\n\n")[3].splitlines()[:2] == [*about]
            assert told.split("\n\n")[2].splitlines() == [Path(name).name for name in own]
            assert all(pack.read(Path(name).name) == (tmp_path / name).read_bytes() for name in own)
        assert not inside & {"client_copy.html", "office_copy.html", "findings.csv", "cost.csv"}


def test_a_nursery_and_a_gardener_see_no_price_of_the_office(tmp_path: Path) -> None:
    there = documents(tmp_path, "schedules/plant_schedule.csv")
    table = 'key,qty,price each,cost,roots,price from\r\nIRI,3,4.5,13.5,"pot, or bare",list\r\n'
    (tmp_path / "schedules/plant_schedule.csv").write_text(table, encoding="utf-8-sig", newline="")
    made = packs.write(tmp_path, "Plum Row", there)
    assert len(made) == 2
    for path in made:
        with zipfile.ZipFile(path) as pack:
            told = pack.read("plant_schedule.csv").decode("utf-8-sig")
        assert list(csv.reader(told.splitlines())) == [["key", "qty", "roots"], ["IRI", "3", "pot, or bare"]]


def test_a_pack_without_documents_is_not_made_and_an_old_one_goes(tmp_path: Path) -> None:
    there = documents(tmp_path, "care.ics", "nursery_pack.zip")
    assert [path.name for path in packs.write(tmp_path, "Plum Row", there)] == ["gardener_pack.zip"]
    assert not (tmp_path / "nursery_pack.zip").exists()


def test_a_document_of_another_day_goes_into_no_pack(tmp_path: Path) -> None:
    now = documents(tmp_path, "care.ics")
    documents(tmp_path, "planting_plan.pdf", "drawing_set.pdf", "schedules/care.csv")
    (made,) = packs.write(tmp_path, "Plum Row", now)
    with zipfile.ZipFile(made) as pack:
        assert set(pack.namelist()) == {"READ_ME.txt", "care.ics"}


def test_the_same_documents_make_the_same_pack(tmp_path: Path) -> None:
    there = documents(tmp_path, "care.ics")
    (first,) = packs.write(tmp_path, "Plum Row", there)
    before = first.read_bytes()
    packs.write(tmp_path, "Plum Row", there)
    assert first.read_bytes() == before
