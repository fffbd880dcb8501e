"""The house's own checks can fail: each is shown something it must object to."""

import pytest

import licences
import walls


@pytest.mark.parametrize(
    "expression",
    [
        "MIT",
        "MIT/Apache-2.0",
        "Apache-2.0 WITH LLVM-exception",
        "GPL-3.0-only OR MIT",
        "(MIT OR GPL-2.0-only) AND Unicode-3.0",
        "MIT OR GPL-3.0-only AND LGPL-3.0-only",  # AND binds closer than OR (SPDX 2.3, annex D.4.5)
        "Unlicense OR MIT",
    ],
)
def test_licences_that_can_be_kept(expression):
    assert licences.allows(expression)


@pytest.mark.parametrize(
    "expression",
    [
        "GPL-3.0-only",
        "MIT AND GPL-3.0-only",
        "(MIT OR Apache-2.0) AND GPL-2.0-only",
        "Unlicense",
        "Apache-2.0 WITH Some-other-exception",
        "GPL-2.0-only WITH Classpath-exception-2.0",
    ],
)
def test_licences_that_cannot(expression):
    assert not licences.allows(expression)


@pytest.mark.parametrize("expression", ["", "MIT OR", "(MIT", "MIT)", "MIT Apache-2.0", "AND MIT", "MIT, Zlib"])
def test_what_is_not_a_licence_expression(expression):
    with pytest.raises(licences.Unreadable):
        licences.allows(expression)


def test_a_dependency_without_a_licence_is_named():
    metadata = {
        "workspace_members": ["ours 1"],
        "packages": [
            {"id": "ours 1", "name": "ours", "version": "1", "license": None},
            {"id": "theirs 2", "name": "theirs", "version": "2", "license": None, "license_file": "TERMS"},
        ],
    }
    assert licences.objections(metadata) == ["theirs 2 states no licence expression (file: TERMS)"]


def test_the_table_may_not_know_the_planners():
    assert walls.crate_objections("rehearse", {"recipe", "terms", "serde"}) == []
    for planner in ("design", "piecing", "cutting"):
        assert walls.crate_objections("rehearse", {"recipe", planner})


def test_the_engine_may_not_pull_in_the_typesetter():
    assert walls.crate_objections("cutting", {"recipe", "typst-layout"})
    assert walls.crate_objections("book", {"recipe", "typst-layout"}) == []


@pytest.mark.parametrize(
    "source",
    [
        "use shape::allowance::with_allowance;",
        "use shape::{Line, congruence::alike};",
        "use shape::{\n    Line,\n    allowance,\n};",
        "fn f() { let _ = shape::congruence::is_handed(&p, 0.1); }",
        "use shape::*;",
        "use shape as plane;",
    ],
)
def test_planners_formulas_are_seen(source):
    assert walls.formula_objections("table.rs", source)


@pytest.mark.parametrize(
    "source",
    [
        "use shape::{Line, Point};",
        "// not shape::allowance, on purpose\nuse shape::Polygon;",
        "let allowance = 0.25; let shape = Shape { allowance };",
        "use crate::allowance::free; use shape::Motion;",
    ],
)
def test_and_nothing_else_is(source):
    assert walls.formula_objections("table.rs", source) == []
