"""Score curves, weights, judgements, families, facts and sentence templates: data that anyone may read and edit."""
