"""Chapters of a recorded demonstration: a chapter file for players, and the list of times people paste under a video.

This module owns how a run of the stopwatch is told as chapters. Notes of the run and who was there stay out of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from html import escape

from handouts_build.language import tr

__all__ = ["RecordedChapter", "chapter_file", "chapters_of", "time_list"]


@dataclass(frozen=True)
class RecordedChapter:
    """One chapter: from when to when in the recording, in whole seconds, and its title."""

    starts: int
    ends: int
    title: str


def chapters_of(
    stretches: Iterable[tuple[int, int, str]], *, pauses: Sequence[tuple[int, int]] = (), watch_started: int = 0
) -> tuple[RecordedChapter, ...]:
    """The chapters of a recording that ran while the stopwatch did.

    While the watch stood still the recording went on: what began after a pause is that much later in it. A chapter
    lasts until the next one starts. What was recorded before the watch was started is a chapter of its own, so that the
    first starts at nought; what was not yet recorded is left out.

    Args:
        stretches: Start and end on the watch in seconds, and the title, of each step and each break of a run.
        pauses: At what the watch stood, and for how long, in seconds.
        watch_started: Second of the recording at which the watch was started; negative where the recording was started
            that much later than the watch.

    Returns:
        The chapters in order, none of them empty; none where nothing of the run was recorded.
    """
    found: list[RecordedChapter] = []
    for start, end, title in sorted(stretches):
        # What begins where the watch stood began when it went on; what ends there had ended before.
        begins = max(start + watch_started + sum(lasted for at, lasted in pauses if at <= start), 0)
        ends = end + watch_started + sum(lasted for at, lasted in pauses if at < end)
        if ends <= begins:
            continue
        if found and found[-1].title == title:
            begins = found.pop().starts
        elif found:
            found[-1] = RecordedChapter(found[-1].starts, begins, found[-1].title)
        elif begins > 0:
            found.append(RecordedChapter(0, begins, tr("Before the first step")))
        found.append(RecordedChapter(begins, ends, title))
    return tuple(chapter for chapter in found if chapter.ends > chapter.starts)


def chapter_file(chapters: Sequence[RecordedChapter]) -> bytes:
    """The chapters as a WebVTT file, for the `chapters` track of a player.

    Args:
        chapters: In order.

    Source: W3C, WebVTT: The Web Video Text Tracks Format, 'WebVTT file using chapter title text'.
    """
    from webvtt import Caption, WebVTT

    # Text of a cue is markup: '&' and '<' are written as character references, and with '>' no title holds an arrow.
    cues = [
        Caption(_stamp(chapter.starts), _stamp(chapter.ends), escape(chapter.title, quote=False))
        for chapter in chapters
    ]
    return f"{WebVTT(captions=cues).content}\n".encode()


def time_list(chapters: Sequence[RecordedChapter]) -> bytes:
    """The chapters as lines of a start and a title, the form that players of videos make links from.

    Args:
        chapters: In order.

    Source: common practice, no published source.
    """
    return "".join(f"{line}\n" for line in _lines(chapters)).encode()


def _lines(chapters: Sequence[RecordedChapter]) -> Iterator[str]:
    hours = any(chapter.starts >= 3600 for chapter in chapters)
    for chapter in chapters:
        minutes, seconds = divmod(chapter.starts, 60)
        clock = f"{minutes // 60}:{minutes % 60:02d}:{seconds:02d}" if hours else f"{minutes}:{seconds:02d}"
        yield f"{clock} {chapter.title}"


def _stamp(seconds: int) -> str:
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}.000"
