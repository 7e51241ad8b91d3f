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
    tr_about_later,
    tr_count,
    tr_later,
)
from handouts_build.language.joined import in_a_row, labelled, listed, one_of, phrases_in_a_row

__all__ = [
    "ENGLISH",
    "PluralForms",
    "in_a_row",
    "labelled",
    "languages",
    "listed",
    "one_of",
    "phrases_in_a_row",
    "plural_forms",
    "speaking",
    "spoken",
    "tr",
    "tr_about",
    "tr_about_later",
    "tr_count",
    "tr_later",
]
