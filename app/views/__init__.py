"""What draws the patient, the dose and the beams."""
