"""How Hypothesis searches: the same examples at each run, so that a change fails for its own faults alone.

``pytest --hypothesis-profile=search`` looks further, at other examples each time. The machine's speed never decides.
"""

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, database=None)
settings.register_profile("search", max_examples=2000, deadline=None)
settings.load_profile("steady")
