"""Evaluations as plain data: what the command line prints and what the page receives."""

from array import array
from collections.abc import Mapping
from typing import Any

from crankpin.calculator.curves import DrawnAxis, DrawnPicture
from crankpin.calculator.declaration import Calculator, Input
from crankpin.calculator.evaluate import Asked, Evaluation, Found, evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.naming import name_of
from crankpin.calculator.parsing import Given, ParsedInput
from crankpin.calculator.rendering import MathmlScript
from crankpin.calculator.working import rendered_symbol, working


def result(name: str, evaluation: Evaluation) -> dict[str, Any]:
    """Return an evaluation in the form of the contract: calculator, inputs, outputs, cautions."""
    return {
        "calculator": name,
        "inputs": {key: _input(parsed_input) for key, parsed_input in evaluation.inputs.items()},
        "outputs": {key: _output(found) for key, found in evaluation.outputs.items()},
        "cautions": list(evaluation.cautions),
        **(_asked(evaluation.asked) if evaluation.asked else {}),
    }


def _asked(asked: Asked) -> dict[str, Any]:
    """Return what was asked, from which result, and every solution."""
    solutions = [{"value": one.value, "unit": one.unit, "text": one.text} for one in asked.solutions]
    found: dict[str, Any] = {"asked": asked.key, "given": asked.target, "solutions": solutions, "method": asked.method}
    if asked.repeat:
        found["repeats_every"] = asked.repeat
    return found


def _input(parsed_input: ParsedInput) -> dict[str, Any]:
    shown = {"value": parsed_input.number, "unit": parsed_input.unit, "text": parsed_input.text}
    if parsed_input.uncertainty:
        shown["uncertainty"] = parsed_input.uncertainty
    if parsed_input.note:
        shown["note"] = parsed_input.note
    return shown


def _name(calculator: Calculator, parsed_input: ParsedInput) -> dict[str, str]:
    """Return what an input is called in the unit in which it was given: its symbol as MathML, and its name."""
    one = calculator.input(parsed_input.key)
    if not isinstance(one, Input):
        return {"symbol": "", "meaning": one.meaning}
    name = name_of(one, parsed_input.chosen)
    return {"symbol": rendered_symbol(name.symbol, MathmlScript()), "meaning": name.meaning}


def _output(found: Found) -> dict[str, Any]:
    if found.value is None:
        return {"value": None, "reason": found.reason}
    shown: dict[str, Any] = {"value": found.value, "unit": found.unit, "text": found.text}
    if found.uncertainty:
        shown["uncertainty"] = found.uncertainty.size
        shown["contributions"] = dict(found.uncertainty.parts)
    return shown


def answer(
    name: str, calculator: Calculator, given: Mapping[str, Given], *, brief: bool = False
) -> tuple[dict[str, Any], "array[float]"]:
    """Return what a page shows for these inputs, and the numbers of its curves in one flat array.

    ``brief`` leaves the working out, as ``[]``. Faults come as data, never as an exception:
    ``{"calculator": ..., "faults": [...]}``.
    """
    try:
        evaluation = evaluate(calculator, given)
    except InputFaultsError as error:
        faults = [{"key": f.key, "given": f.given, "allowed": f.allowed, "message": f.message} for f in error.faults]
        return {"calculator": name, "faults": faults}, array("d")
    return answer_of(name, evaluation, brief=brief)


def answer_of(name: str, evaluation: Evaluation, *, brief: bool = False) -> tuple[dict[str, Any], "array[float]"]:
    """Return what a page shows of an evaluation, as `answer` does."""
    shown = result(name, evaluation)
    for key, parsed_input in evaluation.inputs.items():
        shown["inputs"][key] |= {
            "chosen": parsed_input.chosen,
            "typed": parsed_input.typed,
            **_name(evaluation.calculator, parsed_input),
        }
    for key, found in evaluation.outputs.items():
        shown["outputs"][key] |= {"full": found.full, "chosen": found.chosen}
    if evaluation.asked:
        wanted = evaluation.asked.wanted
        shown["wanted"] = {"typed": wanted.typed, "chosen": wanted.chosen}
    shown["working"] = [
        {
            "key": line.key,
            "symbols": line.symbols,
            "numbers": line.numbers,
            "result": line.result,
            "method": line.method,
        }
        for line in ([] if brief else working(evaluation))
    ]
    numbers = array("d")
    picture = evaluation.picture()
    shown["picture"] = _picture(picture, numbers) if picture else None
    return shown, numbers


def _picture(picture: DrawnPicture, numbers: "array[float]") -> dict[str, Any]:
    panels = []
    for panel in picture.panels:
        curves = []
        for one in panel.curves:
            curves.append(
                {
                    "key": one.curve.key,
                    "label": one.curve.label,
                    "role": one.curve.role,
                    "line": one.curve.line,
                    "start": len(numbers),
                    "count": len(one.xs),
                }
            )
            numbers.extend(one.xs)
            numbers.extend(one.ys)
        panels.append(
            {
                "horizontal": _axis(panel.horizontal),
                "vertical": _axis(panel.vertical),
                "square": panel.panel.square,
                "curves": curves,
                "marks": [
                    {"key": mark.key, "label": mark.label, "role": mark.role, "x": x, "y": y}
                    for mark, x, y in panel.marks
                ],
            }
        )
    return {"caption": picture.caption, "words": picture.words, "panels": panels}


def _axis(axis: DrawnAxis) -> dict[str, Any]:
    return {"title": axis.title, "meaning": axis.meaning, "unit": axis.unit.symbol}
