"""What the judge of the interface needs to know to get past the first door: the revision a wish is made on, as any window
knows it from the living pages."""

import json
import urllib.request

import schemathesis


def revision(url, quilt):
    """The fingerprint of the quilt's file as it is now; nothing when there is no such quilt."""
    try:
        with urllib.request.urlopen(f"{url}/quilts/{quilt}/living", timeout=20) as answer:
            return json.load(answer)["revision"]
    except (OSError, ValueError, KeyError):
        return None


@schemathesis.hook
def before_call(context, case, **kwargs):
    base = (case.operation.base_url or "").rstrip("/")
    quilt = (case.path_parameters or {}).get("quilt")
    if not isinstance(quilt, str) or not quilt.replace("-", "").isalnum() or not quilt.isascii():
        return
    # Three of four wishes are made on the quilt as it is; the others say what was drawn for them.
    if isinstance(case.body, dict) and "wish" in case.body and len(str(case.body)) % 4:
        case.body["base"] = revision(base, quilt) or case.body.get("base")
    if isinstance(case.query, dict) and "base" in case.query:
        case.query["base"] = revision(base, quilt) or case.query["base"]
