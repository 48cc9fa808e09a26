"""From a survey to complete ramps that pass: drafted by rule, mended by what fails, made better in steps."""
