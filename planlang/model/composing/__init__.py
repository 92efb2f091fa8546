"""One text out of a plan, its template and its libraries; every place in it is shown in the plan's own file."""
