"""A slow, literal reading of what a plan means, written apart from `planlang/planning/`.

Nothing here is clever: the whole history is replayed for every placement of rest, and every block
stands under the sentence that it follows. The product is compared with it week by week.
"""
