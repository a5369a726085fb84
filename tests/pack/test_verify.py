"""The stand-alone verifier: nothing but the standard library, and no single change that it does not find."""

import hashlib
import io
import json
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from county.pack import verify
from county.pack.about import pack_json
from county.pack.ledger_file import ledger_file
from county.pack.record import Choice, make_record
from tests.builders import a_note, after
from tests.pack.a_record import a_day, a_record, kept

SCRIPT = Path(verify.__file__)
ALONE = (sys.executable, "-S", "-I", "-E")
THOUSAND_CHANGES = """
import importlib.util, io, random, sys
spec = importlib.util.spec_from_file_location("verify", sys.argv[1])
verify = importlib.util.module_from_spec(spec)
spec.loader.exec_module(verify)
with open(sys.argv[2], "rb") as file:
    whole = file.read()
luck = random.Random(20261103)
found = missed = 0
for turn in range(1000):
    at = luck.randrange(len(whole))
    first = whole.count(b"\\n", 0, at) + 1
    new = luck.choice([bytes([byte]) for byte in range(256) if byte != whole[at]])
    before, behind = whole[:at], whole[at + 1 :]
    changed = (before + new + behind, before + behind, before + new + whole[at:])[turn % 3]
    if changed == whole:
        continue
    try:
        walked = verify.walk(io.BytesIO(changed))
    except verify.Wrong as error:
        # one more of what stands there already may show in the entry behind it
        found += error.seq == first or (turn % 3 == 2 and error.seq == first + 1 and new == b"\\n")
        missed += not (error.seq == first or (turn % 3 == 2 and error.seq == first + 1 and new == b"\\n"))
    else:
        missed += 1
foreign = [name for name, module in sys.modules.items() if "site-packages" in str(getattr(module, "__file__", ""))]
print(found, missed, foreign)
"""


@pytest.fixture(params=[Choice(), Choice(names=True)], ids=["public", "full"])
def pack(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A pack's ledger, its description, the verifier and the list of sums."""
    return a_small_pack(tmp_path / "pack", request.param)


def a_small_pack(folder: Path, choice: Choice) -> Path:
    record = a_record(choice)
    ledger = ledger_file(record)
    folder.mkdir(parents=True)
    (folder / verify.LEDGER).write_bytes(ledger.text.encode())
    (folder / verify.ABOUT).write_bytes(pack_json(record, ledger).encode())
    (folder / "verify.py").write_bytes(SCRIPT.read_bytes())
    sums = [f"{hashlib.sha256(file.read_bytes()).hexdigest()}  {file.name}\n" for file in sorted(folder.iterdir())]
    (folder / verify.SUMS).write_text("".join(sums))
    return folder


def said(folder: Path, *more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*ALONE, folder / "verify.py", *more], capture_output=True, text=True, check=False)


def lines(folder: Path) -> Iterator[dict[str, object]]:
    return (json.loads(line) for line in (folder / verify.LEDGER).read_text().splitlines())


def test_an_untouched_pack_is_confirmed_by_the_standard_library_alone(pack: Path) -> None:
    done = said(pack)
    assert (done.returncode, done.stderr) == (0, "")
    assert f"{len(a_day())} entries" in done.stdout
    assert "3 files lie here" in done.stdout
    assert "All that was checked holds." in done.stdout


def test_each_of_a_thousand_single_changes_is_found_and_its_entry_named(pack: Path, tmp_path: Path) -> None:
    driver = tmp_path / "driver.py"
    driver.write_text(THOUSAND_CHANGES)
    done = subprocess.run(
        [*ALONE, driver, pack / "verify.py", pack / verify.LEDGER], capture_output=True, text=True, check=True
    )
    found, missed, foreign = done.stdout.split(maxsplit=2)
    assert (int(missed), foreign.strip()) == (0, "[]")
    assert int(found) > 990


@pytest.mark.parametrize("name", [verify.LEDGER, verify.ABOUT, verify.SUMS])
def test_a_single_changed_byte_of_any_file_is_told(pack: Path, name: str) -> None:
    whole = (pack / name).read_bytes()
    for at in range(0, len(whole), max(1, len(whole) // 5)):
        (pack / name).write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        assert verify.main([str(pack)]) == 1, (name, at)


def test_the_first_wrong_entry_is_named_to_whoever_runs_it(pack: Path) -> None:
    every = (pack / verify.LEDGER).read_text().splitlines(keepends=True)
    every[6] = every[6].replace('"place":"P014"', '"place":"P015"')
    (pack / verify.LEDGER).write_text("".join(every))
    done = said(pack)
    assert done.returncode == 1
    assert "BROKEN: entry 7: does not have its digest" in done.stdout
    assert "All that was checked holds." not in done.stdout


def test_entries_cut_off_at_the_end_are_missed_by_the_description(pack: Path) -> None:
    every = (pack / verify.LEDGER).read_text().splitlines(keepends=True)
    (pack / verify.LEDGER).write_text("".join(every[:-2]))
    assert f"BROKEN: pack.json speaks of {len(a_day())} entries" in said(pack).stdout


def test_a_file_put_in_and_a_file_taken_away_are_told(pack: Path) -> None:
    (pack / "more.csv").write_text("x")
    (pack / verify.ABOUT).rename(pack / "other.json")
    assert "more.csv is not listed; other.json is not listed; pack.json is missing" in said(pack).stdout


def test_a_digest_noted_elsewhere_is_compared(pack: Path) -> None:
    *_, last = lines(pack)
    assert "Holds: the last digest is the one you gave." in said(pack, "--head", str(last["digest"])).stdout
    assert said(pack, "--head", "0" * 64).returncode == 1


def test_a_public_copy_says_that_it_cannot_prove_the_countys_digest(tmp_path: Path) -> None:
    pack = a_small_pack(tmp_path / "pack", Choice())
    done = said(pack, "--head", a_record().digests[-1])
    assert done.returncode == 0
    assert "NOT checked: you gave the last digest of the county's ledger." in done.stdout


def test_a_public_copy_is_held_against_the_full_ledger_word_by_word(tmp_path: Path) -> None:
    public, full = a_small_pack(tmp_path / "a", Choice()), a_small_pack(tmp_path / "b", Choice(names=True))
    done = said(public, "--ledger", str(full / verify.LEDGER))
    assert done.returncode == 0
    assert "every word that was not replaced stands in the full ledger" in done.stdout


def test_a_note_that_looks_like_a_digest_breaks_no_chain(tmp_path: Path) -> None:
    note = replace(a_note(after(5), f'a","digest":"{verify.FIRST_PREVIOUS}","b'), seq=1)
    for choice in (Choice(), Choice(names=True)):
        record = make_record(kept([note]), choice)
        walked = verify.walk(f"{line}\n".encode() for line in ledger_file(record).lines)
        assert (walked.entries, walked.head) == (1, ledger_file(record).head)


def test_a_public_copy_that_was_made_to_say_something_else_differs_from_the_full_ledger(tmp_path: Path) -> None:
    full = a_small_pack(tmp_path / "full", Choice(names=True))
    forged = []
    previous = verify.FIRST_PREVIOUS
    for form in lines(a_small_pack(tmp_path / "public", Choice())):
        form.pop("digest")
        form["previous"] = previous
        if form["seq"] == 11:
            form["happened_at"] = "2026-11-03T12:14:00Z"
        previous = verify.digest_of(previous, verify.canonical(form))
        forged.append(verify.canonical(form | {"digest": previous}).encode() + b"\n")
    assert verify.walk(forged).copy == "public"
    with pytest.raises(verify.Wrong, match="entry 11: says another happened_at"):
        verify.compare(forged, io.BytesIO((full / verify.LEDGER).read_bytes()))


@pytest.mark.parametrize(
    "line",
    [
        b'{"seq":1.0}\n',
        b'{"seq":NaN}\n',
        b"[1]\n",
        b'{"seq":true}\n',
        b"\xff\n",
        b"\n",
        b'{"a":"\\ud800"}\n',
        b"[" * 99999,
    ],
)
def test_what_is_no_entry_is_wrong_and_never_a_crash(line: bytes) -> None:
    with pytest.raises(verify.Wrong, match="entry 1: "):
        verify.walk([line])


def test_names_are_sorted_by_their_utf_16_code_units_as_the_standard_says() -> None:
    # RFC 8785 3.2.3: U+1F600 (surrogates D83D DE00) comes before U+FB33
    assert verify.canonical({"\ufb33": 1, "\U0001f600": 2, "a": '\u20ac$\x0f\n"\\'}) == (
        '{"a":"\u20ac$\\u000f\\n\\"\\\\","\U0001f600":2,"\ufb33":1}'
    )
