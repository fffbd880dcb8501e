#!/usr/bin/env python3
"""The workshop's interface against its own description (OpenAPI), by requests drawn from it, good and bad: nothing is answered with a
fault of the server's, nothing that is not described, and the program stands at the end.

usage: interface.py PROGRAM [SECONDS]
"""

import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request

HERE = pathlib.Path(__file__).resolve().parent
SEED = "20250"
CHECKS = "not_a_server_error,status_code_conformance,content_type_conformance,response_schema_conformance"
# Streams have no end; a judge would wait for it.
STREAMS = r"/(events|hand-out/progress)$"
# Names of things that are there, so that most requests get past the first door. What is not there is asked for as well.
PARAMETERS = {"path.quilt": "harbour-windows", "path.block": "half"}


def configuration(folder):
    """A file of settings; the names are taken literally."""
    lines = [f'hooks = "{HERE / "interface_hooks.py"}"', "[parameters]"]
    lines += [f'"{name}" = "{value}"' for name, value in PARAMETERS.items()]
    place = folder / "schemathesis.toml"
    place.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return place


def run(url, folder, seconds, named):
    """One run of the judge; `named` with the names of things that are there."""
    tool = pathlib.Path(sys.executable).parent / "st"
    command = [str(tool)]
    environment = {**os.environ, "PYTHONPATH": str(HERE)}
    if named:
        command += ["--config-file", str(configuration(folder))]
    command += ["run", f"{url}/openapi.json", "--seed", SEED, "--checks", CHECKS, "--exclude-path-regex", STREAMS]
    command += ["--phases", "examples,coverage,fuzzing" if named else "fuzzing"]
    command += ["--max-examples", "25" if named else "10", "--request-timeout", "30", "--max-redirects", "0"]
    command += ["--max-failures", "10", "--no-color"]
    try:
        return subprocess.run(command, cwd=folder, env=environment, timeout=seconds, check=False).returncode
    except subprocess.TimeoutExpired:
        print(f"the judge was not done after {seconds} s")
        return 1


def main(arguments):
    program, seconds = arguments[0], int(arguments[1]) if len(arguments) > 1 else 300
    folder = pathlib.Path(tempfile.mkdtemp(prefix="interface-"))
    said = []
    shop = subprocess.Popen(
        [program, "open", str(folder / "quilts"), "--port", "0", "--no-browser"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )
    try:
        complaints = threading.Thread(target=lambda: said.extend(shop.stderr), daemon=True)
        complaints.start()
        url = re.search(r"http://127\.0\.0\.1:\d+", shop.stdout.readline()).group()
        failed = [named for named in (True, False) if run(url, folder, seconds, named) != 0]
        with urllib.request.urlopen(url, timeout=20) as answer:
            stands = answer.status == 200 and shop.poll() is None
        time.sleep(0.2)
        panics = [line for line in said if "panicked" in line]
        for line in panics:
            print(line, end="")
        if not stands:
            print("the program no longer stands")
        return 1 if failed or panics or not stands else 0
    finally:
        shop.kill()
        shop.wait()
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
