"""Private means private whatever a file is called: papers by their mark, contacts and links by themselves."""

from __future__ import annotations

import pytest

from handouts_build.disk.privacy import is_ours, is_private, secrets, told
from handouts_build.evening.folder import evening_kit
from handouts_build.problems import ProjectError
from handouts_build.site.leaks import leaks
from tests.evening.conftest import EVENING
from tests.evening.test_kept import HELD, frozen

NAME = "2026-06-06-saltmarsh"
PRIVATE = """\
private:
  contact: ["Host on the evening: 555 0142 ask for the key", host@club.example]
  link: https://meeting.example/abc
"""


def found(projects, **documents):
    docs = projects.parent / "docs"
    docs.mkdir(exist_ok=True)
    paths = []
    for name, content in documents.items():
        path = docs / name.replace("_", ".")
        path.write_bytes(content)
        paths.append(path)
    return [str(problem) for problem in leaks(paths, [projects / "piece.yml"], projects.parent)]


def test_every_private_file_is_told_by_its_content_under_any_name(read, projects, tmp_path):
    read({NAME: EVENING + PRIVATE})
    kit = evening_kit(read(), NAME)
    for index, (name, content) in enumerate(kit.files.items()):
        other = tmp_path / f"holiday-{index}.bin"
        other.write_bytes(content)
        assert is_private(other) is ("to-share" not in name), name
        assert is_ours(other), name
        told_of = found(projects, **{f"copy{index}_bin": content})
        assert bool(told_of) is ("to-share" not in name), name


@pytest.mark.parametrize(
    "text",
    ["Call 555 0142.", "call 555-0142", "(555) 0142", "host@club.example", "see https://meeting.example/abc now"],
)
def test_a_contact_or_link_is_found_however_it_is_written(read, projects, text):
    read({NAME: EVENING + PRIVATE})
    (problem,) = found(projects, page_md=text.encode())
    assert problem.startswith("docs/page.md: a contact or link of an evening stands here")
    assert NAME in problem


@pytest.mark.parametrize("text", ["15550142", "55501420", "555 mm and 0142", "https://meeting.example/other"])
def test_what_only_looks_alike_is_none(read, projects, text):
    read({NAME: EVENING + PRIVATE})
    assert not found(projects, page_md=text.encode())


def test_what_its_owner_asked_to_be_shown_is_no_secret(read, projects):
    read({NAME: EVENING + PRIVATE + "share: [link]\n"})
    assert not found(projects, page_md=b"https://meeting.example/abc")
    assert found(projects, page_md=b"555 0142")


def test_a_contact_in_the_project_file_or_in_an_answer_is_found(read, projects):
    read({NAME: EVENING + PRIVATE + "afterwards: {questions: [{asked: Who?, answered: Ring 555 0142.}]}\n"})
    (problem,) = found(projects)
    assert "stands in what is published of it too" in problem
    path = projects / "piece.yml"
    path.write_text(path.read_text().replace("A small piece", "host@club.example has a small piece"))
    assert any(problem.startswith("projects/piece.yml: a contact") for problem in found(projects))


def test_a_private_paper_among_those_handed_out_is_refused(read, projects):
    read({NAME: EVENING + PRIVATE})
    paper = evening_kit(read(), NAME).files[f"piece-{NAME}-run-sheet-letter.pdf"]
    frozen(read, projects, **{"piece-handout-letter.pdf": paper})
    with pytest.raises(ProjectError, match="private and was not handed out"):
        read({NAME: HELD})


def test_secrets_are_addresses_and_numbers_and_not_words():
    assert secrets(["Host: 0555 0166", "Ask Wren at 7"]) == ("05550166",)
    assert told("ring 0555-0166", secrets(["Host: 0555 0166"])) == ("05550166",)
