"""The calculator that a source text declares. What a page needs to read one, and no more."""

from crankpin.calculator.declaration import Calculator
from crankpin.calculator.faults import DeclarationFault, DeclarationFaultsError


def read_calculator(source: str, file: str) -> Calculator:
    """Return the calculator that a source text declares; raises `DeclarationFaultsError` when it has none."""
    found = declared(source, file)
    if isinstance(found, DeclarationFault):
        raise DeclarationFaultsError([found])
    return found


def declared(source: str, file: str) -> Calculator | DeclarationFault:
    """Return the calculator that a source text declares, or what is wrong with it and at which line."""
    stem = file.replace("\\", "/").rpartition("/")[2].removesuffix(".py")
    space: dict[str, object] = {"__name__": f"calculators.{stem}", "__file__": file}
    try:
        exec(compile(source, file, "exec", dont_inherit=True), space)
    except SyntaxError as error:
        return DeclarationFault(file, error.lineno or 1, f"this is not Python: {error.msg}")
    except Exception as error:  # whatever an author's file raises is told at its line
        return DeclarationFault(file, _line_written(error, source) or _line_of(error, file), _in_words(error))
    found = space.get("calculator")
    if not isinstance(found, Calculator):
        return DeclarationFault(file, 1, "the file must set the name `calculator` to a Calculator")
    return found


def _line_written(error: Exception, source: str) -> int:
    """Return the line that holds the text an error names as its cause, 0 where there is none."""
    written = getattr(error, "written", "")
    at = source.find(written) if written else -1
    return source.count("\n", 0, at) + 1 if at >= 0 else 0


def _in_words(error: Exception) -> str:
    """Return what Python says of a mistake in the words of an author."""
    said = str(error)
    quoted = ", ".join(said.split("'")[1::2])
    if isinstance(error, ModuleNotFoundError):
        return f"there is no module {error.name}"
    if isinstance(error, NameError):
        return f"the name {quoted} is not known here: is it misspelt, or is its import missing at the top?"
    if isinstance(error, TypeError) and ("missing" in said or "unexpected keyword" in said):
        what = said.partition("(")[0].removesuffix(".__init__")
        return f"{what} {'needs' if 'missing' in said else 'has no'} {quoted}"
    return said if hasattr(error, "written") else f"{type(error).__name__}: {said}"


def _line_of(error: Exception, file: str) -> int:
    """Return the last line of a file that an error came through."""
    found, frame = 1, error.__traceback__
    while frame:
        if frame.tb_frame.f_code.co_filename == file:
            found = frame.tb_lineno
        frame = frame.tb_next
    return found
