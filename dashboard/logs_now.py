"""Devices' own logs as the board shows them: each file read once, held against the record that is looked at."""

import threading

from county import device_logs
from county.domain.logs_beside import DeviceBeside, LogFile, logs_beside
from county.domain.picture import Picture
from county.wiring import Office


class LogsNow:
    """The files taken in so far; any thread may ask."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._lock = threading.Lock()
        self._files: list[LogFile] = []
        self._last = 0

    def read_new(self) -> int:
        """Read the files taken in since the last time; the number of the newest, 0 where there is none."""
        with self._lock:
            for number, file in device_logs.kept(self._office, self._last):
                self._files.append(file)
                self._last = number
            return self._last

    def beside(self, picture: Picture) -> tuple[DeviceBeside, ...]:
        """Every device of every log read so far, held against the day as this picture has it."""
        with self._lock:
            files = list(self._files)
        return logs_beside(files, picture)
