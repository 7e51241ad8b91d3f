"""The catalogue: every sentence that a reader sees, in the language of the reader."""

from handouts_build.language.catalogue import (
    ENGLISH,
    PluralForms,
    languages,
    plural_forms,
    speaking,
    spoken,
    tr,
    tr_about,
    tr_count,
    tr_later,
)
from handouts_build.language.lists import listed, one_of, row, row_of_phrases

__all__ = [
    "ENGLISH",
    "PluralForms",
    "languages",
    "listed",
    "one_of",
    "plural_forms",
    "row",
    "row_of_phrases",
    "speaking",
    "spoken",
    "tr",
    "tr_about",
    "tr_count",
    "tr_later",
]
