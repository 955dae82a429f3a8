"""Small errors put into a copy of the package, one at a time: do the tests notice?"""
