"""What the buyer will live with: arrays in, arrays out, axes (draw, machine, job)."""
