"""The language of a page, as the theme says it and as it is.

The theme's own words are in the language of `mkdocs.yml`, which is the webmaster's to set; ours are in that of the
archive. This module owns that a page says which it is in, and that whoever builds the site hears where the two differ.
"""

from __future__ import annotations

import re

from mkdocs.config.defaults import MkDocsConfig

__all__ = ["in_language", "unlike_theme"]

_SAID = re.compile(r"(<html\b[^<>]*?\blang=\"?)([\w-]+)")


def unlike_theme(config: MkDocsConfig, language: str) -> str:
    """What the webmaster should be told where the theme speaks another language than the archive; else empty.

    Args:
        config: The site's settings.
        language: Of the archive, as a tag of BCP 47.
    """
    of_theme = config.theme.get("language") or config.theme.get("locale")
    if of_theme is None or _spoken(str(of_theme)) == _spoken(language):
        return ""
    key = "language" if config.theme.get("language") else "locale"
    return (
        f"the archive's language is '{language}' and the theme's '{of_theme}': "
        f"set '{key}: {language}' under 'theme' in mkdocs.yml, or 'language' in the shop file"
    )


def in_language(html: str, language: str) -> str:
    """A page of ours that says its language, whatever its theme speaks; as it is where that is the same.

    Args:
        html: The page, whole.
        language: Of its words, as a tag of BCP 47.
    """
    found = _SAID.search(html)
    if found is None or _spoken(found[2]) == _spoken(language):
        return html
    return f"{html[: found.start()]}{found[1]}{language}{html[found.end() :]}"


def _spoken(tag: str) -> str:
    """The language of a tag, without its script and region."""
    return re.split("[-_]", tag)[0].casefold()
