package sheet
import ("testing";"context";"os";"fmt")
func TestDump(t *testing.T){ p:=os.Getenv("DUMP"); if p=="" {t.Skip()}
 b,err:=Read(context.Background(),p,p,Options{}); if err!=nil{t.Fatal(err)}
 for _,tb:=range b.Tables{ fmt.Printf("TABLE %s hdr %d turned %v title %q foot %q\n",tb.Sheet,tb.HeaderRow,tb.Transposed,tb.Title,tb.Footnotes)
 for _,c:=range tb.Columns{fmt.Printf("  col %s %q %s %s unit %s from %s m=%s b=%s reason=%s\n",c.Ref,c.Header,c.Role,c.Analyte,c.Unit,c.UnitFrom,c.Method,c.Basis,c.Reason)}
 for _,r:=range tb.Rows{fmt.Printf("  row %q %s rep=%q text=%v total=%v\n",r.Name,r.Role,r.Replicate,r.Text,r.ReportedTotal!=nil); for _,v:=range r.Values{fmt.Printf("      %s %v u=%v (%s) %s lim %v raw %q %s %v\n",v.Analyte,v.Value,v.U,v.UNote,v.Class,v.Limit,v.Raw,v.Unit,v.Flags)}}}
 for _,r:=range b.Records{fmt.Printf("RECORDS %s hdr %d title %q fields %+v\n",r.Sheet,r.HeaderRow,r.Title,r.Fields); for _,x:=range r.Rows{fmt.Printf("  %d:",x.Row); for _,c:=range x.Cells{fmt.Printf(" [%s %v %s]",c.Text,c.Value,c.Class)}; fmt.Println()}}
 for _,n:=range b.Notices{fmt.Println(n.Severity,n.Code,n.Error())}
}
