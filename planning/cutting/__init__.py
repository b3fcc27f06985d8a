"""Cut plans: how every part comes out of sheets and boards, what to buy, what is left."""
