"""Pictures: charts, stages, schematics, shapes and graphs, all derived from what is below."""
