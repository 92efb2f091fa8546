"""Everything that runs code: `build`, with all its makers at hand."""

from planlang.checking.expression import joined, mentions, over_lists, scalars
from planlang.checking.expression.running import Code, Frame, Run, Values, build, build_true

__all__ = ["Code", "Frame", "Run", "Values", "build", "build_true", "joined", "mentions", "over_lists", "scalars"]
