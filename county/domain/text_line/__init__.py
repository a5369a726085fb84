"""The text line: what places tell by a short message, and what each message means."""

from county.domain.text_line.line import Unclear, Understood
from county.domain.text_line.seen import may_acknowledge
from county.domain.text_line.speakers import Speaker, speaker_of, spoken_of
from county.domain.text_line.table import TEXT_LINES, example, understand
from county.domain.text_line.words import plain, words_of

__all__ = [
    "TEXT_LINES",
    "Speaker",
    "Unclear",
    "Understood",
    "example",
    "may_acknowledge",
    "plain",
    "speaker_of",
    "spoken_of",
    "understand",
    "words_of",
]
