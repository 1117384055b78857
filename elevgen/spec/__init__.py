"""What a person writes: the wall spec, its models, its loading and its faults."""
