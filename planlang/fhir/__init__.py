"""A plan as HL7 FHIR R4 resources, for a clinic's record system."""
