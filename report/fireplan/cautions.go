package fireplan

import (
	"fmt"
	"strings"

	"smeltbook/report/caution"
)

// cautions are those of every firing, those of the charge where one is planned,
// and what this furnace adds.
func (p *Plan) cautions(ofCharge []caution.Caution) {
	if len(ofCharge) == 0 {
		var names []string
		for _, f := range caution.Fumes() {
			names = append(names, f.Name)
		}
		ofCharge = append(caution.Always(), caution.Caution{Code: "fume_unknown",
			Text: fmt.Sprintf("Nothing says whether the charge holds %s: %s.", strings.Join(names, ", "), caution.Unknown)})
	}
	for _, c := range ofCharge {
		p.Cautions = append(p.Cautions, c.Text)
	}
	if p.Furnace.Ground.Moisture > 0 {
		p.Cautions = append(p.Cautions, "This ground is "+p.Ground+": dry the pit before the lining goes in, and let nothing molten near it before it stopped steaming.")
	}
	if p.Backdraw.Monoxide > 0 {
		p.Cautions = append(p.Cautions, "Bellows that draw gas of the fire can catch or burst: lift the nozzle or open the valve before each pause, and keep faces away.")
	}
	if p.Blower.Kind == "blowpipe" {
		p.Cautions = append(p.Cautions, "Who blows by mouth never draws breath through the pipe, and is relieved at the first dizziness.")
	}
}
