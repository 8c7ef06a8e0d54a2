package page
import ("testing";"os";"context";"time";"github.com/chromedp/chromedp")
func do[T any](t *testing.T, ctx context.Context, a chromedp.Action[T]) T { t.Helper(); v,err:=chromedp.Run(ctx,a); if err!=nil {t.Fatal(err)}; return v }
func TestTrial(t *testing.T){ f,_:=os.Create("/tmp/np/trial.html"); if err:=Render(f,sampleDocument(),Assets{}); err!=nil {t.Fatal(err)}; f.Close()
 if os.Getenv("DP")=="" {return}
 ctx,c2:=chromedp.NewContext(context.Background(),chromedp.WithAllocatorOptions(chromedp.NoSandbox)); defer c2(); ctx,c3:=context.WithTimeout(ctx,60*time.Second); defer c3()
 shot:=func(n string){ b:=do(t,ctx,chromedp.CaptureScreenshot()); os.WriteFile("/tmp/np/"+n,b,0o644) }
 do(t,ctx,chromedp.EmulateViewport(1600,1000)); do(t,ctx,chromedp.Navigate("file:///tmp/np/trial.html"))
 t.Log(do(t,ctx,chromedp.Evaluate[string](`document.querySelector('details.long').open=true; document.querySelector('#table-3 .sort').click(); document.querySelectorAll('#table-3 .sort')[3].click(); document.querySelectorAll('#table-3 .sort')[3].click(); document.querySelector('#entry-5').scrollIntoView({behavior:'instant'}); document.querySelector('#table-2 .pick').click(); [document.querySelector('#table-3 tbody tr').textContent, document.querySelectorAll('.picked').length].join('|')`)))
 do(t,ctx,chromedp.Sleep(400*time.Millisecond)); shot("c1.png")
 t.Log(do(t,ctx,chromedp.Evaluate[string](`document.querySelector('#entry-1').scrollIntoView({behavior:'instant'}); document.querySelectorAll('#table-1 td[data-note]')[6].dispatchEvent(new PointerEvent('pointerover',{bubbles:true})); document.getElementById('tip').textContent`)))
 do(t,ctx,chromedp.Sleep(400*time.Millisecond)); shot("c2.png")
 for _,w:=range []int64{390,760,1000,1100,1280,1440} {
 do(t,ctx,chromedp.EmulateViewport(w,1600)); do(t,ctx,chromedp.Sleep(200*time.Millisecond))
 t.Log(w,do(t,ctx,chromedp.Evaluate[string](`document.documentElement.scrollWidth+' '+Array.from(document.querySelectorAll('body *')).filter(e=>e.getBoundingClientRect().right>innerWidth+1&&!e.closest('.scroll,.card,.skip')).slice(0,4).map(e=>e.tagName+'.'+e.className).join(',')`)))
 }
 do(t,ctx,chromedp.EmulateViewport(390,1500));do(t,ctx,chromedp.Evaluate[string](`document.querySelector('#entry-4').scrollIntoView({behavior:'instant'});''`)); do(t,ctx,chromedp.Sleep(200*time.Millisecond)); shot("c3.png")
}
