"""The drop folder: files come in whole, by the same intake, once; what was bad lies beside them; nothing is lost."""

import csv
import io
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from county import desk
from county.desk import keep
from county.domain.receipts import Receipt
from county.following import Following
from county.wiring import Office
from ingest.csv_drop import WATCHED_FOR, DropFolder
from ingest.drop_file import LARGEST_FILE, DropFile
from ingest.waiting import Item
from ingest.writer import CannotKeep
from tests.an_office import set_up
from tests.ingest.an_office import ZERO, a_report

HEADER = tuple(ZERO)


class Folder:
    """A drop folder over a fresh office, with a timer that the test turns."""

    def __init__(self, data: Path) -> None:
        self.office: Office = set_up(data)
        self.following = Following(self.office)
        self.now = 0.0
        self.broken = False
        self.chunks: list[int] = []
        self.drop = self.again()

    def again(self) -> DropFolder:
        """The folder as a process sees it that has just begun."""
        opened = lambda name: DropFile(name, self.office, self.following, self.keep)  # noqa: E731
        return DropFolder(self.office.settings.data / "drop", opened, lambda: self.now)

    def keep(self, items: Sequence[Item]) -> list[Receipt]:
        if self.broken:
            raise CannotKeep("broken for the test")
        self.chunks.append(len(items))
        return keep(self.office, items)

    def look(self, times: int = 1, seconds: float = 1.0) -> int:
        """So many looks, a second apart; how many files were taken."""
        taken = 0
        for _ in range(times):
            self.now += seconds
            taken += self.drop.poll()
        return taken

    def put(self, name: str, content: str | bytes) -> Path:
        path = self.drop.inbox / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    def keys(self) -> list[str]:
        entries = desk.ledger_pages(self.office, 0, 1_000_000)
        return [str(entry["key"]) for entry in entries if entry["kind"] != "roster"]

    def done(self) -> list[str]:
        return sorted(path.name for path in self.drop.done.iterdir())

    def waiting(self) -> list[str]:
        return sorted(path.name for path in self.drop.inbox.iterdir())

    def refused(self, name: str) -> list[dict[str, str]]:
        return list(csv.DictReader(io.StringIO((self.drop.done / name).read_text(encoding="utf-8"))))


@pytest.fixture
def folder(tmp_path: Path) -> Iterator[Folder]:
    made = Folder(tmp_path / "data")
    yield made
    made.office.engine.dispose()


def a_table(*rows: dict[str, object], columns: Sequence[str] = HEADER, delimiter: str = ",") -> str:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, delimiter=delimiter, extrasaction="raise")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def test_a_good_file_is_taken_in_and_lies_in_done(folder: Folder) -> None:
    folder.put("morning.csv", a_table(a_report(), a_report(key="zero-2")))
    assert folder.look(2) == 1
    assert folder.keys() == ["zero-1", "zero-2"]
    assert (folder.waiting(), folder.done()) == ([], ["morning.csv"])
    entry = desk.ledger_pages(folder.office)[1]
    assert (entry["sender"], entry["door"], entry["by"]) == ("drop:morning.csv", "drop", "morning.csv")
    assert (entry["public_counter"], entry["happened_at"]) == (0, "2026-11-03T11:41:00Z")


def test_good_rows_are_kept_and_bad_ones_lie_beside_with_their_row_and_reason(folder: Folder) -> None:
    rows = [a_report(), a_report(key="b", public_counter=-1), a_report(key="c", place="P999"), a_report(key="d")]
    folder.put("morning.csv", a_table(*rows))
    folder.look(2)
    assert folder.keys() == ["zero-1", "d"]
    assert folder.done() == ["morning.csv", "morning.refused.csv"]
    refused = folder.refused("morning.refused.csv")
    assert [(row["row"], row["key"], row["public_counter"]) for row in refused] == [("3", "b", "-1"), ("4", "c", "0")]
    assert "public_counter" in refused[0]["says"]
    assert "P999" in refused[1]["says"]
    aside = desk.set_aside_list(folder.office)
    assert sorted((item.sender, item.source) for item in aside) == [
        ("drop:morning.csv", "morning.csv row 3"),
        ("drop:morning.csv", "morning.csv row 4"),
    ]


def test_a_row_in_conflict_with_what_stands_is_told_beside_the_file(folder: Folder) -> None:
    folder.put("a.csv", a_table(a_report()))
    folder.put("b.csv", a_table(a_report(public_counter=7)))
    folder.look(2)
    assert [row["key"] for row in folder.refused("b.refused.csv")] == ["zero-1"]
    assert folder.keys() == ["zero-1"]


def test_the_same_file_again_changes_nothing_and_overwrites_nothing(folder: Folder) -> None:
    rows = [a_report(key=None), a_report(key=None, copies=2), a_report(key=None, copies=-2)]
    table = a_table(*rows)
    for _ in range(2):
        folder.put("morning.csv", table)
        folder.look(2)
    folder.put("copy.csv", table)
    folder.look(2)
    keys = folder.keys()
    assert len(keys) == 2
    assert all(key.startswith("row-") and len(key) == 36 for key in keys)
    assert folder.done() == [
        "copy.csv",
        "copy.refused.csv",
        "morning-2.csv",
        "morning-2.refused.csv",
        "morning.csv",
        "morning.refused.csv",
    ]


def test_what_was_put_right_in_the_refused_file_can_be_dropped_again(folder: Folder) -> None:
    folder.put("morning.csv", a_table(a_report(copies=-3)))
    folder.look(2)
    right = (folder.drop.done / "morning.refused.csv").read_text().replace("-3", "3", 1)
    folder.put("morning.refused.csv", right)
    folder.look(2)
    assert folder.keys() == ["zero-1"]
    assert folder.waiting() == []


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_any_spreadsheet_s_file_is_read(folder: Folder, delimiter: str, encoding: str) -> None:
    table = a_table(a_report(note='said "é", 東; tab\there'), delimiter=delimiter)
    folder.put("morning.csv", table.encode(encoding))
    folder.look(2)
    assert folder.keys() == ["zero-1"]
    assert desk.ledger_pages(folder.office)[1]["note"] == 'said "é", 東; tab\there'


def test_columns_may_stand_in_any_order_and_case_with_spaces_around(folder: Folder) -> None:
    folder.put("morning.csv", " Place , KIND,note , key\r\n14A , note , all well , n-1 \r\n")
    folder.look(2)
    assert folder.keys() == ["n-1"]
    assert folder.done() == ["morning.csv"]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "empty"),
        (b"\r\n\r\n", "column"),
        (b"place,name,address\r\nP014,Brook Chapel,3 Chapel Row\r\n", "kind"),
        (b"key,key,place\r\na,b,P014\r\n", "twice"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", ""),
        (b"PK\x03\x04\x14\0\0\0\x08\0", ""),
        (bytes(range(256)) * 40, ""),
    ],
)
def test_a_file_that_is_no_table_of_reports_is_set_aside_whole(folder: Folder, content: bytes, says: str) -> None:
    folder.put("odd.csv", content)
    folder.put("good.csv", a_table(a_report()))
    assert folder.look(4) == 2
    assert folder.keys() == ["zero-1"]
    assert (folder.drop.done / "odd.csv").read_bytes() == content
    assert says in folder.refused("odd.refused.csv")[0]["says"]
    assert [item.source for item in desk.set_aside_list(folder.office)] == ["odd.csv"]


def test_an_unknown_column_is_refused_by_name_and_costs_only_the_rows_that_fill_it(folder: Folder) -> None:
    folder.put("extra.csv", b"key,place,kind,note,mayor\r\na,P014,note,all well,12\r\nb,P014,note,all well,\r\n")
    folder.look(2)
    assert folder.keys() == ["b"]
    assert [(line["row"], line["says"]) for line in folder.refused("extra.refused.csv")] == [
        ("2", "mayor: no such field")
    ]


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (b"a,P014,note,has a \0 NUL", "NUL"),
        (b"a,P014,note,caf\xe9", "UTF-8"),
        (b'a,P014,note,"never closed', "never closed"),
        (b"a,P014,note,one,two,three", "more values"),
        (b"a", "kind"),
    ],
)
def test_a_row_that_cannot_be_read_never_costs_the_others(folder: Folder, row: bytes, says: str) -> None:
    folder.put("morning.csv", b"key,place,kind,note\r\n" + row + b"\r\nb,P014,note,all well\r\n")
    folder.look(2)
    assert folder.keys() == ["b"]
    refused = folder.refused("morning.refused.csv")
    assert [line["row"] for line in refused] == ["2"]
    assert says in refused[0]["says"]


def test_a_file_still_being_written_is_left_until_it_has_lain_still(folder: Folder) -> None:
    table = a_table(*(a_report(key=f"k-{n}") for n in range(9)))
    for end in range(len(table) // 5, len(table), len(table) // 5):
        folder.put("growing.csv", table[:end])
        assert folder.look() == 0
    folder.put("growing.csv", table)
    assert folder.look(2) == 1
    assert len(folder.keys()) == 9
    assert folder.done() == ["growing.csv"]


def test_a_look_too_soon_after_another_takes_nothing(folder: Folder) -> None:
    folder.put("morning.csv", a_table(a_report()))
    assert folder.look(9, seconds=0.1) == 0
    assert folder.look(3, seconds=0.1) == 1


def test_a_file_whose_writer_only_paused_is_taken_again_when_it_grows(folder: Folder) -> None:
    path = folder.put("slow.csv", a_table(a_report(key="a")))
    with path.open("a", newline="") as writer:
        folder.look(2)
        assert folder.keys() == ["a"]
        writer.write(a_table(a_report(key="b")).split("\r\n", 1)[1])
    folder.look(3)
    assert folder.keys() == ["a", "b"]
    assert (folder.waiting(), folder.done()) == ([], ["slow.csv"])


def test_half_a_line_is_waited_for_longer_and_a_file_may_end_without_a_line_end(folder: Folder) -> None:
    whole = a_table(a_report(key="a"), a_report(key="b", signers=12)).removesuffix("\r\n")
    folder.put("slow.csv", whole[:-20])
    assert folder.look(2) == 0
    folder.put("slow.csv", whole)
    assert folder.look(2) == 0
    assert folder.look(2) == 1
    assert folder.keys() == ["a", "b"]
    assert folder.done() == ["slow.csv"]


def test_a_file_that_a_person_changed_in_done_is_left_alone(folder: Folder) -> None:
    folder.put("morning.csv", a_table(a_report()))
    folder.look(2)
    (folder.drop.done / "morning.csv").write_text(a_table(a_report(copies=33), a_report(key="more")))
    assert folder.look(4) == 0
    assert folder.keys() == ["zero-1"]


def test_the_folders_are_made_again_where_somebody_removed_them(folder: Folder) -> None:
    folder.drop.inbox.rmdir()
    folder.drop.done.rmdir()
    assert folder.look() == 0
    folder.put("morning.csv", a_table(a_report()))
    assert folder.look(2) == 1


def test_a_file_changed_by_hand_long_after_is_left_where_it_lies(folder: Folder) -> None:
    folder.put("morning.csv", a_table(a_report()))
    folder.look(2)
    folder.look(seconds=WATCHED_FOR + 1)
    (folder.drop.done / "morning.csv").write_text("changed")
    folder.look(3)
    assert folder.done() == ["morning.csv"]


def test_what_is_no_dropped_file_is_left_alone(folder: Folder, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere.csv"
    elsewhere.write_text(a_table(a_report()))
    names = [".hidden.csv", "~lock.csv", "morning.csv.part", "morning.tmp", "notes.txt"]
    for name in names:
        folder.put(name, a_table(a_report()))
    (folder.drop.inbox / "folder.csv").mkdir()
    (folder.drop.inbox / "link.csv").symlink_to(elsewhere)
    assert folder.look(3) == 0
    assert folder.waiting() == sorted([*names, "folder.csv", "link.csv"])


@pytest.mark.parametrize("name", ["with space.csv", "ünïcödé 東.csv", "UPPER.CSV", "a'; DROP TABLE ledger;.csv"])
def test_a_file_s_name_is_only_a_name(folder: Folder, name: str) -> None:
    folder.put(name, a_table(a_report()))
    folder.look(2)
    assert folder.done() == [name]
    assert desk.ledger_pages(folder.office)[1]["sender"] == f"drop:{name}"


def test_a_name_that_is_no_text_is_written_with_escapes(folder: Folder) -> None:
    folder.put("caf\udce9.csv", a_table(a_report()))
    folder.look(2)
    assert desk.ledger_pages(folder.office)[1]["sender"] == "drop:caf\\udce9.csv"


def test_where_nothing_can_be_kept_the_file_stays_and_is_taken_later(folder: Folder) -> None:
    folder.put("morning.csv", a_table(a_report()))
    folder.broken = True
    assert folder.look(3) == 0
    assert folder.waiting() == ["morning.csv"]
    folder.broken = False
    assert folder.look(15) == 1
    assert folder.keys() == ["zero-1"]


def test_a_fall_in_the_middle_of_a_file_is_made_good_by_the_next_start(folder: Folder) -> None:
    rows = [a_report(key=f"k-{n}", copies=-1 if n % 100 == 7 else 3) for n in range(600)]
    folder.put("long.csv", a_table(*rows))
    keep_all = folder.keep

    def keep_some(items: Sequence[Item]) -> list[Receipt]:
        if len(folder.chunks) == 1:
            raise KeyboardInterrupt
        return keep_all(items)

    folder.keep = keep_some  # type: ignore[method-assign]
    with pytest.raises(KeyboardInterrupt):
        folder.look(2)
    assert 0 < len(folder.keys()) < 594
    folder.keep = keep_all  # type: ignore[method-assign]
    folder.drop = folder.again()
    assert folder.look(2) == 1
    assert len(folder.keys()) == len(set(folder.keys())) == 594
    assert len(folder.refused("long.refused.csv")) == 6
    assert len(desk.set_aside_list(folder.office)) == 6


def test_a_file_beyond_all_measure_is_set_aside_without_being_read(folder: Folder) -> None:
    path = folder.put("endless.csv", "key,place\r\n")
    with path.open("r+b") as file:
        file.truncate(LARGEST_FILE + 1)  # sparse: it takes no room
    folder.look(2)
    assert "drop it in parts" in folder.refused("endless.refused.csv")[0]["says"]
    assert folder.done() == ["endless.csv", "endless.refused.csv"]


def test_a_file_of_a_hundred_thousand_rows_comes_in_by_parts(folder: Folder) -> None:
    row = "k-{0},P014,note,line {0}\r\n"
    folder.put("huge.csv", "key,place,kind,note\r\n" + "".join(row.format(n) for n in range(100_000)))
    began = time.monotonic()
    assert folder.look(2) == 1
    assert time.monotonic() - began < 150
    assert desk.last_seq(folder.office) == 100_001
    assert max(folder.chunks) <= 500
    assert folder.done() == ["huge.csv"]
