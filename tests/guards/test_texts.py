"""The project's texts: it speaks of itself alone, names no registry, and has only its own top-level names."""

from __future__ import annotations

import re

from tests.guards.sources import text_files, tracked_files

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE",
    "pyproject.toml",
    "xref",
    "tests",
    "fixtures",
    "examples",
}

#: How the work is organised is no part of the project. Written in pieces, so that this file passes too.
ORGANISATION = re.compile(
    "|".join(
        (
            "seed " + "document",
            "trans" + "cript",
            "sha" + r"red/(design|facts|style|hooks|reading)",
            "facts" + r"\.md",
            "design" + r"\.md",
            r"(?-i:\b" + "issue" + r" #?\d+\b)",  # with a capital it is the edition of a manual
        )
    ),
    re.IGNORECASE,
)

#: Hosts of package registries and their mirrors.
REGISTRY = re.compile(
    "|".join(
        (
            "py" + r"pi\.(org|python)",
            "python" + r"hosted\.org",
            "npm" + r"js\.(org|com)",
            "anaconda" + r"\.org",
            "crates" + r"\.io",
            "deb" + r"\.debian",
            "archive" + r"\.ubuntu",
            "index" + r"-url",
        )
    ),
    re.IGNORECASE,
)


def _places(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{name}:{number}: {line.strip()[:100]}"
        for name, text in text_files()
        for number, line in enumerate(text.splitlines(), start=1)
        if pattern.search(line)
    ]


def test_the_patterns_find_what_they_are_for() -> None:
    """A guard that finds nothing anywhere guards nothing."""
    assert ORGANISATION.search("see iss" + "ue 12") and ORGANISATION.search("a Trans" + "cript")
    assert REGISTRY.search("https://" + "pypi" + ".org/simple")


def test_nothing_speaks_of_how_the_work_is_organised() -> None:
    """Code, tests, documents and data speak of the project alone."""
    assert not _places(ORGANISATION)


def test_no_package_registry_is_named() -> None:
    """Where packages come from is the business of whoever installs them."""
    assert not _places(REGISTRY)


def test_only_the_known_names_stand_at_the_top() -> None:
    """Whoever opens the folder sees the same few names each time."""
    top = {name.split("/")[0] for name in tracked_files()}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL


def test_no_file_has_a_name_that_some_system_refuses() -> None:
    """Names differ in more than case and hold no character Windows refuses."""
    names = tracked_files()
    assert len({name.lower() for name in names}) == len(names)
    assert not [name for name in names if re.search(r'[<>:"\\|?*]|[. ]$', name)]
