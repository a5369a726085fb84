"""A process that appends, `python -m tests.store.appender URL NAME BATCHES SIZE`, and tells what is durable."""

import sys

from county.store import ledger
from county.store.engine import make_engine, writing
from tests.store.an_entry import entries


def main(url: str, name: str, batches: int, size: int) -> None:
    engine = make_engine(url)
    for batch in range(batches):
        with writing(engine) as connection:
            receipts = ledger.append(connection, entries(size, f"{name}-{batch}", place=name))
        for receipt in receipts:
            print(receipt.key, receipt.seq, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))
