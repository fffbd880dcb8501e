#!/usr/bin/env python3
"""Checks the walls between the rooms: which of our crates a crate may lean on, tests and build scripts included.

The table below is the rule; ARCHITECTURE.md gives its reasons. `cargo tree` says what is so.
"""

import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]

# For each crate, all of ours that may stand anywhere beneath it.
GROUND = {"measure", "shape", "terms"}
ENGINE = GROUND | {"design", "recipe", "piecing", "finishing", "cutting", "drafting", "rehearse"}
MAY_USE = {
    "measure": set(),
    "shape": {"measure"},
    "terms": {"measure", "shape"},
    "design": GROUND,
    "recipe": GROUND,
    "piecing": GROUND | {"design", "recipe"},
    "finishing": GROUND | {"recipe"},
    "cutting": GROUND | {"recipe"},
    "drafting": GROUND | {"design", "recipe", "piecing", "finishing", "cutting"},
    "rehearse": GROUND | {"recipe"},
    "trials": ENGINE,
    "book": ENGINE,
    "workshop": ENGINE | {"book"},
    "scantling": ENGINE | {"book", "workshop"},
}

# The typesetter takes minutes to build; nothing of it may stand beneath an engine crate.
TYPESETTER = re.compile(r"typst(-.*)?$")

# Of the crate `shape`, the virtual table may use edges, motions and cutting along lines, but not the formulas that
# the planners use: what both sides shared could not be found wrong.
PLANNERS_FORMULAS = ("allowance", "congruence")


def beneath(crate):
    """Names of all packages that `crate`, its tests and its build script are built from."""
    command = ["cargo", "tree", "--locked", "-p", crate, "-e", "normal,build,dev", "--prefix", "none"]
    command += ["--target", "all", "--format", "{p}"]
    listed = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True, cwd=ROOT).stdout
    return {line.split()[0] for line in listed.splitlines() if line.strip()} - {crate}


def crate_objections(crate, names):
    """What `crate` leans on and may not."""
    ours = names & set(MAY_USE)
    lines = [f"{crate} leans on {other}, which the table does not allow" for other in sorted(ours - MAY_USE[crate])]
    if crate in ENGINE | {"trials"}:
        lines += [f"{crate} pulls in the typesetter ({n})" for n in sorted(names) if TYPESETTER.match(n)]
    return lines


def without_comments(source):
    """Rust source with its comments blanked, so that a comment may name what the code must not use."""
    source = re.sub(r"/\*.*?\*/", " ", source, flags=re.S)
    return re.sub(r"//[^\n]*", "", source)


def formula_objections(name, source):
    """Uses of the planners' formulas in one source file of the virtual table."""
    code = without_comments(source)
    names = "|".join(PLANNERS_FORMULAS)
    lines = []
    for found in re.finditer(rf"\bshape\s*::\s*({names})\b", code):
        lines.append(f"{name} uses shape::{found.group(1)}")
    for found in re.finditer(r"\buse\s+(?:::)?shape\b([^;]*);", code):
        clause = found.group(1)
        inside = re.search(rf"\{{[^;]*\b({names})\b", clause)
        if inside:
            lines.append(f"{name} uses shape::{inside.group(1)}")
        if "*" in clause or re.match(r"\s+as\b", clause):
            lines.append(f"{name} takes in the whole of shape or renames it, so that the check cannot see what it uses")
    return lines


def main():
    members = {path.parent.name for path in ROOT.glob("crates/*/Cargo.toml")}
    lines = [f"crate {name} is not in the table of tests/house/walls.py" for name in sorted(members - set(MAY_USE))]
    lines += [f"crate {name} of the table is gone" for name in sorted(set(MAY_USE) - members)]
    for crate in sorted(members & set(MAY_USE)):
        lines += crate_objections(crate, beneath(crate))
    for path in sorted((ROOT / "crates" / "rehearse").rglob("*.rs")):
        lines += formula_objections(path.relative_to(ROOT), path.read_text(encoding="utf-8"))
    for line in lines:
        print(line)
    print(f"{len(members)} crates, {len(lines)} objections")
    return 1 if lines else 0


if __name__ == "__main__":
    sys.exit(main())
