// Bodies of functions that are linked by name lie elsewhere.
