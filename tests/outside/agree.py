"""Whether the two judges agree on altered recipes.

    python agree.py FOLDER [LIST]

FOLDER holds picture.json, the recipes, and a list of them, one JSON line each: {"file": ..., "proved": ...}, with the
other judge's verdict. Without LIST the one file in FOLDER that ends in .jsonl is read. Every disagreement is printed as a
JSON line with both answers, then one line of counts. The exit code is 0 when the two agree on all, 1 when they do not, 2
when the folder cannot be read or lists nothing.
"""

import argparse
import json
import sys
from pathlib import Path as File

from replay import Picture, judge


def listed(folder, name):
    """The lines of the list; each names a recipe in the folder and says whether the other judge proves it."""
    if name is None:
        lists = sorted(folder.glob("*.jsonl"))
        if len(lists) != 1:
            raise ValueError(f"{len(lists)} files end in .jsonl, one is needed")
        file = lists[0]
    else:
        file = folder / name
    lines = [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines() if line.strip()]
    if not lines:
        raise ValueError("the list is empty")
    for line in lines:
        if not isinstance(line["file"], str) or not isinstance(line["proved"], bool):
            raise ValueError(f"cannot read {json.dumps(line)[:80]}")
    return lines


def main(arguments):
    parser = argparse.ArgumentParser(description="Hold the second judge's verdicts against the first's.")
    parser.add_argument("folder")
    parser.add_argument("list", nargs="?")
    chosen = parser.parse_args(arguments)
    folder = File(chosen.folder)
    try:
        picture = Picture(json.loads((folder / "picture.json").read_text(encoding="utf-8")))
        lines = listed(folder, chosen.list)
        missing = [line["file"] for line in lines if not (folder / line["file"]).is_file()]
        if missing:
            raise ValueError(f"{len(missing)} listed recipes are not there, the first is {missing[0]}")
    except (OSError, ValueError, KeyError, TypeError) as broken:
        print(f"{folder} cannot be read: {type(broken).__name__}: {broken}", file=sys.stderr)
        return 2
    differ = 0
    for line in lines:
        verdict = judge(folder / line["file"], picture)
        if verdict["proved"] != line["proved"]:
            differ += 1
            print(json.dumps({"file": line["file"], "first": line, "second": verdict}), flush=True)
    proved = sum(line["proved"] for line in lines)
    print(json.dumps({"recipes": len(lines), "proved": proved, "differ": differ}))
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
