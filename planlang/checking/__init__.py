"""Rule packs, the expression language, facts, the engine, waivers, and rules' own examples."""
