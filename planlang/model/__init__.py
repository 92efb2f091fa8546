"""What a plan says, typed: quantities, doses, ladders, the plan and its parts."""
