#!/usr/bin/env python3
"""Checks that everything compiled into the program may be used in it.

Reads `cargo metadata` (or a file with its output, for tests of this script) and holds each dependency's SPDX licence
expression against the list below. An alternative (`OR`) passes when one side does, a conjunction (`AND`) when both
do. A licence that is not on the list stops the tests until a person has read it and decided.
"""

import json
import re
import subprocess
import sys

# Licences whose terms we have read and can keep: permissive ones, and MPL-2.0, whose terms end at the file.
ALLOWED = {
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MPL-2.0",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "Zlib",
}


class Unreadable(Exception):
    """The expression is not SPDX."""


def words(expression):
    """The expression's words and parentheses. Old packages write `MIT/Apache-2.0` for an alternative."""
    found = re.findall(r"[()]|[A-Za-z0-9.+:-]+", expression.replace("/", " OR "))
    if "".join(found) != re.sub(r"\s+", "", expression.replace("/", "OR")):
        raise Unreadable(expression)
    return found


def allows(expression):
    """Whether the expression can be met with allowed licences alone. `WITH` binds closest, then `AND`, then `OR`."""
    rest = words(expression)

    def take():
        if not rest:
            raise Unreadable(expression)
        return rest.pop(0)

    def alternative():
        result = conjunction()
        while rest[:1] == ["OR"]:
            take()
            # Both sides are always read, so that the second one is checked for being SPDX at all.
            other = conjunction()
            result = result or other
        return result

    def conjunction():
        result = single()
        while rest[:1] == ["AND"]:
            take()
            other = single()
            result = result and other
        return result

    def single():
        word = take()
        if word == "(":
            result = alternative()
            if take() != ")":
                raise Unreadable(expression)
            return result
        if word in (")", "OR", "AND", "WITH"):
            raise Unreadable(expression)
        if rest[:1] == ["WITH"]:
            take()
            word = f"{word} WITH {take()}"
        return word in ALLOWED

    result = alternative()
    if rest:
        raise Unreadable(expression)
    return result


def objections(metadata):
    """One line for each dependency that may not be used."""
    ours = set(metadata["workspace_members"])
    lines = []
    for package in sorted(metadata["packages"], key=lambda p: (p["name"], p["version"])):
        if package["id"] in ours:
            continue
        name = f"{package['name']} {package['version']}"
        expression = package.get("license")
        if not expression:
            lines.append(f"{name} states no licence expression (file: {package.get('license_file') or 'none'})")
            continue
        try:
            if not allows(expression):
                lines.append(f"{name} is under \"{expression}\", which the list does not allow")
        except Unreadable:
            lines.append(f"{name} states \"{expression}\", which is not an SPDX expression")
    return lines


def main(arguments):
    if arguments:
        with open(arguments[0], encoding="utf-8") as file:
            metadata = json.load(file)
    else:
        command = ["cargo", "metadata", "--format-version", "1", "--locked"]
        metadata = json.loads(subprocess.run(command, check=True, stdout=subprocess.PIPE).stdout)
    lines = objections(metadata)
    for line in lines:
        print(line)
    others = len(metadata["packages"]) - len(metadata["workspace_members"])
    if others <= 0:
        print("cargo metadata names no dependencies; the check has nothing to say")
        return 1
    print(f"{others} dependencies, {len(lines)} objections")
    return 1 if lines else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
