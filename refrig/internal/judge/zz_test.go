package judge

import (
	"fmt"
	"os"
	"strconv"
	"testing"
	"twoneedles/refrig/diagnose"
)

func TestZZ(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("ZZ"))
	if n == 0 {
		t.Skip()
	}
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	ws := append([]Named{Home}, append(Worlds(), Mistakes()...)...)
	for i, w := range ws {
		s, _ := w.World.DrawMany(n, uint64(777+i))
		for _, set := range ReadingSets() {
			sc, err := Trial(s, set, Posterior(m))
			if err != nil {
				t.Fatal(err)
			}
			fmt.Printf("%-45s %-30s top1 %.3f top2 %.3f ll %.2f ece %.3f acc %.1f buried %.1f wrong %.1f claims %.0f right %.0f\n", w.Name, set.Name, sc.Top1, sc.Top2, sc.LogLoss, sc.ECE, 100*sc.Accused, 100*sc.Buried, 100*sc.WrongSure, 100*sc.Claims, 100*sc.ClaimsRight)
		}
	}
}
