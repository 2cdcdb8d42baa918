"""Leaf geometry over the travel: scan vs closed form."""
import json, csv
def geom(W,E,a,s,T,r,c,ml,mt):
    L=W+E+T; D=W+E+r
    closed_ok = T>=a+s+c/2+mt-1e-9; open_ok = r<=a-c/2-ml+1e-9
    # scan
    n=4000; ok=True; minfront=1e9; mintail=1e9
    for i in range(n+1):
        d=D*i/n; uA=W+E+a-d; uB=uA+s
        minfront=min(minfront,uA-c/2); mintail=min(mintail,L-(uB+c/2))
    scan_ok=minfront>=ml-1e-6 and mintail>=mt-1e-6
    clear=W-max(0,-r)
    return dict(L=L,D=D,T_min=a+s+c/2+mt,r_max=a-c/2-ml,ratio=T/W,clear_open=clear,runback_from_opening=L+r,behind_tail_post=L+r-(a+s),total_line=W+L+r,engaged_closed=closed_ok,engaged_open=open_ok,scan_ok=scan_ok,min_front=minfront,min_tail=mintail)
rows=[]
for nm,args in {'24 ft, 50%':(24,.5,.75,10,12,.0,1.0,.0,.5),'24 ft, 42%':(24,.5,.75,10,10.0,.0,1.0,.0,.5),'20 ft, 50%, leaf recess':(20,.5,1.0,8,10,.25,1.0,.1,.5),'20 ft intrudes 6 in':(20,.5,.5,7,9,-.5,1.0,.5,.5),'30 ft, 45%':(30,.5,.75,11.5,13.5,0,1.2,0.1,.4),'16 ft, 40%':(16,.25,.5,5,6.4,0,.8,.05,.3)}.items():
    g=geom(*args); assert (g['engaged_closed'] and g['engaged_open'])==g['scan_ok'],(nm,g); rows.append([nm]+list(args)+list(g.values())); print(nm,args,{k:(round(v,4) if isinstance(v,float) else v) for k,v in g.items()})
with open('geometry.csv','w',newline='') as fh:
    w=csv.writer(fh); w.writerow('name,W,E,a,s,T,r,c,ml,mt,L,D,T_min,r_max,ratio,clear_open,runback_from_opening,behind_tail_post,total_line,engaged_closed,engaged_open,scan_ok,min_front,min_tail'.split(',')); w.writerows(rows)
