"""The only folder that knows DICOM tags."""
