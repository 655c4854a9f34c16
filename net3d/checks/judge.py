def check(*a): return ()
