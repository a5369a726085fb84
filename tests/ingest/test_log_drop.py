"""Devices' logs dropped into their folder: kept as they came, once; what cannot be read is set aside and said."""

from collections.abc import Sequence
from pathlib import Path

from county import desk, device_logs
from county.desk import keep
from county.domain.receipts import Receipt
from county.rehearsal.log_writing import log_as_json, log_as_xml
from ingest.csv_drop import DropFolder
from ingest.log_drop import ENDINGS, LogDropFile
from ingest.waiting import Item
from tests.an_office import set_up
from tests.domain.logs import a_device, a_log

LOG = a_log(a_device(("O", 0), ("C", 780)))


class LogFolder:
    """A drop folder for logs over a fresh office, with a timer that the test turns."""

    def __init__(self, data: Path) -> None:
        self.office = set_up(data)
        self.now = 0.0

        def keep_rows(items: Sequence[Item]) -> list[Receipt]:
            return keep(self.office, items)

        self.drop = DropFolder(
            data / "drop" / "logs",
            lambda name: LogDropFile(name, self.office, keep_rows),
            lambda: self.now,
            ENDINGS,
        )

    def put(self, name: str, content: bytes) -> None:
        (self.drop.inbox / name).write_bytes(content)

    def look(self) -> int:
        taken = 0
        for _ in range(6):
            self.now += 1.0
            taken += self.drop.poll()
        return taken

    @property
    def names(self) -> list[str]:
        return [file.name for _, file in device_logs.kept(self.office)]


def test_logs_of_both_kinds_are_taken_and_lie_in_done(tmp_path: Path) -> None:
    folder = LogFolder(tmp_path)
    folder.put("one.xml", log_as_xml(LOG))
    folder.put("two.JSON", log_as_json(LOG))
    folder.put("notes.txt", b"not for us")
    assert folder.look() == 2
    assert sorted(folder.names) == ["one.xml", "two.JSON"]
    assert sorted(path.name for path in folder.drop.done.iterdir()) == ["one.xml", "two.JSON"]
    assert [path.name for path in folder.drop.inbox.iterdir()] == ["notes.txt"]


def test_the_same_log_again_is_kept_once(tmp_path: Path) -> None:
    folder = LogFolder(tmp_path)
    for name in ("one.xml", "again.xml"):
        folder.put(name, log_as_xml(LOG))
        assert folder.look() == 1
    assert folder.names == ["one.xml"]


def test_what_cannot_be_read_is_set_aside_with_its_reason_beside_it(tmp_path: Path) -> None:
    folder = LogFolder(tmp_path)
    folder.put("half.xml", log_as_xml(LOG)[:-40])
    assert folder.look() == 1
    assert folder.names == []
    (aside,) = desk.set_aside_list(folder.office, 10)
    assert aside.source == "half.xml"
    assert "cannot be read as XML" in aside.problems[0].says
    assert "cannot be read as XML" in (folder.drop.done / "half.refused.csv").read_text(encoding="utf-8")
