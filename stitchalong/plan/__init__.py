"""What a designer writes: notation, schema, reading with good errors, where plans are found."""
