"""The alterations written for the other judge: some proved, most not, none that this judge cannot answer."""

import json

import agree
import altered
import pytest


@pytest.mark.parametrize("name", ["dots", "hills"])
def test_alterations_are_answered(tmp_path, monkeypatch, capsys, name):
    monkeypatch.setattr(altered, "MAKERS", {name: altered.MAKERS[name]})
    counts = altered.write(tmp_path)
    folder = tmp_path / name
    files = sorted(file.name for file in folder.glob("recipe-*.json"))
    assert counts == {name: len(files)} and len(files) > 200
    # Held against a judge who proves everything: only what this one does not prove differs.
    lines = [json.dumps({"file": file, "proved": True}) for file in files]
    (folder / "verdicts.jsonl").write_text("\n".join(lines) + "\n")
    agree.main([str(folder)])
    answers = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    refused = [line["second"] for line in answers[:-1]]
    assert 50 < len(refused) < len(files) - 50
    assert all(answer["why"] for answer in refused)
    assert "recipe-00000.json" not in [line["file"] for line in answers[:-1]]
