"""Have props and motors flown longer than their makers say?"""
