"""The catalogue: every sentence that a reader sees, in the language of the reader."""

from handouts_build.language.catalogue import ENGLISH, speaking, spoken, tr, tr_count, tr_later

__all__ = ["ENGLISH", "speaking", "spoken", "tr", "tr_count", "tr_later"]
