"""A plan looked back on with its diary, read slowly and literally, apart from the product.

Written by another hand than `planlang/planning/looking_back.py`: leave this file to its writer.
"""
