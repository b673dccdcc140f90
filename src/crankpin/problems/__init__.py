"""Problems for students: how one is declared, how its numbers are drawn, and how an answer is marked.

It runs unchanged under CPython and under Pyodide, and knows no page. Reading a problem from its Markdown
(`notation`, `parsing`) and trying its variants (`trial`, the command) happen at build time only.

May import: the standard library, crankpin.calculator, crankpin.mechanics.
"""
