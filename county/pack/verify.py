"""Checks a review pack with Python's standard library alone, and says exactly what it checked. Python 3.9 or newer.

    python verify.py [FOLDER] [--head DIGEST] [--ledger FILE]

FOLDER is the pack, where not given the one this script lies in. --head: the last digest as printed on the first page
of the report, or as noted elsewhere. --ledger: the full ledger as JSON lines, to compare a public copy with it.
Exit code 0 where all that was checked holds, 1 where something does not, 2 where nothing could be checked.

A line of ledger.jsonl is one entry in the canonical form of RFC 8785: names sorted by their UTF-16 code units, no
space, nothing escaped that need not be. Its `digest` is the SHA-256, in hex, of the digest before it (64 zeros before
the first) followed by the entry in that form without `digest`.
"""

import argparse
import hashlib
import json
import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple, NoReturn

FIRST_PREVIOUS = "0" * 64
LEDGER, SUMS, ABOUT = "ledger.jsonl", "SHA256SUMS", "pack.json"
OWN = frozenset(("previous", "digest", "copy", "replaced"))
_LARGEST = 2**53 - 1
_SUM = re.compile(r"([0-9a-f]{64})  ([A-Za-z0-9._-]+(?:/[A-Za-z0-9._-]+)?)")
_encode = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode


class Wrong(Exception):
    """Something does not hold; `seq` is the first entry that is not as it was written, 0 where it is no entry."""

    def __init__(self, says: str, seq: int = 0) -> None:
        self.seq = seq
        super().__init__(f"entry {seq}: {says}" if seq else says)


class Walked(NamedTuple):
    """What was found: how many entries, the last digest, `public` or empty, and in how many words were replaced."""

    entries: int
    head: str
    copy: str
    replaced: int


def canonical(form: Any) -> str:
    """RFC 8785 for what a ledger holds: text, whole numbers, yes or no, lists and forms of these. ValueError else."""
    return _encode(_sorted(form))


def _sorted(value: Any) -> Any:
    if isinstance(value, dict):
        names = sorted(value, key=lambda name: name.encode("utf-16-be"))
        return {name: _sorted(value[name]) for name in names}
    if isinstance(value, list):
        return [_sorted(each) for each in value]
    if value is None or isinstance(value, (str, bool)) or (isinstance(value, int) and abs(value) <= _LARGEST):
        return value
    raise ValueError("a value that no ledger holds")


def digest_of(previous: str, text: str) -> str:
    """What chains an entry, without its digest, to the one before."""
    return hashlib.sha256((previous + text).encode()).hexdigest()


def entries(lines: Iterable[bytes]) -> Iterator[dict[str, Any]]:
    """Each entry of these lines, once it was found to be as it was written. Raises Wrong at the first that is not."""
    previous, copy = FIRST_PREVIOUS, None
    for seq, line in enumerate(lines, 1):
        form = _read(line, seq)
        if form.get("seq") != seq or isinstance(form["seq"], bool):
            raise Wrong("is not the next number", seq)
        if form.get("previous") != previous:
            raise Wrong("does not name the digest before it", seq)
        said = form.get("digest")
        if said != digest_of(previous, canonical({name: form[name] for name in form if name != "digest"})):
            raise Wrong("does not have its digest", seq)
        if copy is None:
            copy = form.get("copy", "")
        if form.get("copy", "") != copy or copy not in ("", "public"):
            raise Wrong("is of another copy than those before it", seq)
        previous = said
        yield form


def _read(line: bytes, seq: int) -> dict[str, Any]:
    if not line.endswith(b"\n"):
        raise Wrong("its line does not end", seq)
    try:
        text = line[:-1].decode()
        form = json.loads(text, parse_float=_no_number, parse_constant=_no_number)
        if not isinstance(form, dict) or canonical(form) != text:
            raise ValueError("not in the canonical form")
    except (ValueError, RecursionError):
        raise Wrong("cannot be read as it was written", seq) from None
    return form


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} is no whole number")


def walk(lines: Iterable[bytes]) -> Walked:
    """Walk a whole ledger. Raises Wrong naming the first entry that is not as it was written."""
    count, replaced, last = 0, 0, {"digest": FIRST_PREVIOUS}
    for count, last in enumerate(entries(lines), 1):  # noqa: B007 (what came last is wanted)
        replaced += bool(last.get("replaced"))
    return Walked(count, last["digest"], last.get("copy", ""), replaced)


def compare(public: Iterable[bytes], full: Iterable[bytes]) -> tuple[Walked, Walked]:
    """Walk both, and hold every word of the public copy that was not replaced against the full ledger. Raises Wrong."""
    public_walk, full_walk = entries(public), entries(full)
    counted, replaced = 0, 0
    ours: dict[str, Any] = {"digest": FIRST_PREVIOUS}
    theirs: dict[str, Any] = {"digest": FIRST_PREVIOUS}
    while True:
        our_next, their_next = next(public_walk, None), next(full_walk, None)
        if our_next is None or their_next is None:
            break
        ours, theirs, counted = our_next, their_next, counted + 1
        left_out = set(ours.get("replaced", ()))
        replaced += bool(left_out)
        if (ours.keys() ^ theirs.keys()) - OWN:
            raise Wrong("has other fields than in the full ledger", counted)
        for name in ours.keys() - OWN - left_out:
            if ours[name] != theirs[name] or type(ours[name]) is not type(theirs[name]):
                raise Wrong(f"says another {name} than the full ledger", counted)
    if our_next is not None or their_next is not None:
        raise Wrong("stands in one of the two only", counted + 1)
    return (
        Walked(counted, ours["digest"], ours.get("copy", ""), replaced),
        Walked(counted, theirs["digest"], theirs.get("copy", ""), 0),
    )


def files_as_listed(folder: Path) -> int:
    """How many files lie there as SHA256SUMS lists them, and none besides. Raises Wrong with every one that differs."""
    listed: dict[str, str] = {}
    for number, line in enumerate((folder / SUMS).read_bytes().split(b"\n")[:-1], 1):
        found = _SUM.fullmatch(line.decode("ascii", "replace"))
        if not found or found[2] in listed:
            raise Wrong(f"{SUMS}: line {number} cannot be read")
        listed[found[2]] = found[1]
    there = {file.relative_to(folder).as_posix() for file in folder.rglob("*") if not file.is_dir()} - {SUMS}
    wrong = [f"{name} is not listed" for name in sorted(there - listed.keys())]
    for name, digest in sorted(listed.items()):
        if name not in there:
            wrong.append(f"{name} is missing")
        elif _sha256(folder / name) != digest:
            wrong.append(f"{name} is not the file that was written, or its line in {SUMS} is not")
    if wrong or not listed:
        raise Wrong("; ".join(wrong) or f"{SUMS} lists nothing")
    return len(listed)


def _sha256(file: Path) -> str:
    digest = hashlib.sha256()
    with file.open("rb") as lines:
        for block in iter(lambda: lines.read(1 << 20), b""):
            digest.update(block)
    return digest.hexdigest()


def check_ledger(folder: Path, head: str, full: str) -> Iterator[str]:
    """What was checked of the ledger, a line each. Raises Wrong."""
    with (folder / LEDGER).open("rb") as lines:
        if full:
            with Path(full).open("rb") as others:
                walked, whole = compare(lines, others)
        else:
            walked = walk(lines)
    about = json.loads((folder / ABOUT).read_bytes())
    if (about["entries"], about["last_digest_here"]) != (walked.entries, walked.head):
        raise Wrong(f"{ABOUT} speaks of {about['entries']} entries ending in {about['last_digest_here']}")
    known = [walked.head] + ([about["last_digest_of_ledger"]] if walked.copy else [])
    yield f"Holds: {LEDGER} has {walked.entries:,} entries, numbered without a gap, each in the canonical form with its"
    yield f"  own digest and naming the one before it. The last digest of this file: {walked.head}"
    if walked.copy:
        yield f"  This is a public copy: words were replaced in {walked.replaced:,} entries, so that the digests in it"
        yield "  are its own, not those of the county's ledger."
    if full:
        if whole.copy or whole.head != about["last_digest_of_ledger"]:
            raise Wrong(f"the ledger given ends in {whole.head}, this pack is of one that ends elsewhere")
        yield f"Holds: every word that was not replaced stands in the full ledger, which ends in {whole.head}"
    elif walked.copy:
        yield "NOT checked: that it says what the county's ledger says. That takes the full ledger: --ledger FILE"
    if head and head.lower() not in known:
        raise Wrong(f"the last digest is not {head}")
    if not head:
        yield "NOT checked: who made this pack. Compare the last digest with the printed report's first page, or with"
        yield "  one noted elsewhere (--head DIGEST); whoever can write all files anew can write all digests anew."
    elif head.lower() == walked.head:
        yield "Holds: the last digest is the one you gave."
    elif full:
        yield "Holds: the full ledger's last digest is the one you gave."
    else:
        yield "NOT checked: you gave the last digest of the county's ledger. This pack names it, but a public copy"
        yield "  cannot prove it."


def check_files(folder: Path) -> Iterator[str]:
    """What was checked of the files, a line each. Raises Wrong."""
    yield f"Holds: {files_as_listed(folder)} files lie here as {SUMS} lists them, and no others."


def main(arguments: "list[str]") -> int:
    parser = argparse.ArgumentParser(prog="verify.py", description="Check a review pack; see the top of this script.")
    parser.add_argument("folder", nargs="?", type=Path, default=Path(__file__).resolve().parent)
    parser.add_argument("--head", default="", metavar="DIGEST", help="the last digest as printed or noted elsewhere")
    parser.add_argument("--ledger", default="", metavar="FILE", help="the full ledger, to compare a public copy with")
    asked = parser.parse_args(arguments)
    if not asked.folder.is_dir():
        parser.error(f"there is no folder {asked.folder}")
    code = 0
    for part in (check_ledger(asked.folder, asked.head, asked.ledger), check_files(asked.folder)):
        try:
            for line in part:
                print(line)
        except (Wrong, OSError, ValueError, KeyError, TypeError) as error:
            code = 1
            print(f"BROKEN: {error if isinstance(error, Wrong) else f'cannot be read: {error!r}'}")
    print("All that was checked holds." if code == 0 else "Something does not hold; see above.")
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
