package eos

import (
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/reftest"
)

// Tolerances of issue "main job" item 1, against tables of [Bell2014] that
// evaluate the same equations. What is reached is the printed digits, 1e-9.
const (
	tolRel   = 1e-6 // pressure, density, heat capacity, speed of sound
	tolH     = 1.0  // J/kg
	tolS     = 1e-3 // J/(kg K): tolH over the lowest temperature, less
	tolT     = 1e-6 // K
	demanded = "demanded over the whole table"
)

func rel(got, want float64) float64 { return got/want - 1 }

func TestSaturationTable(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		var p, rho, h, s, cp, w, temp reftest.Worst
		for _, r := range reftest.ReadTable(t, "eos/sat_"+id+".csv").Rows() {
			T := r.Num("T_K")
			if T > f.SatTMax() {
				continue
			}
			sat, err := f.SatT(T)
			if err != nil {
				t.Error(r, err)
				continue
			}
			l, v := f.At(T, sat.RhoL), f.At(T, sat.RhoV)
			at := r.String()
			p.See(rel(sat.P, r.Num("p_Pa")), at)
			rho.See(rel(sat.RhoL, r.Num("rhoL_kg_m3")), at)
			rho.See(rel(sat.RhoV, r.Num("rhoV_kg_m3")), at)
			h.See(l.H-r.Num("hL_J_kg"), at)
			h.See(v.H-r.Num("hV_J_kg"), at)
			s.See(l.S-r.Num("sL_J_kgK"), at)
			s.See(v.S-r.Num("sV_J_kgK"), at)
			cp.See(rel(l.Cp, r.Num("cpL_J_kgK")), at)
			cp.See(rel(v.Cp, r.Num("cpV_J_kgK")), at)
			w.See(rel(l.W, r.Num("wL_m_s")), at)
			w.See(rel(v.W, r.Num("wV_m_s")), at)
			back, err := f.SatP(sat.P)
			if err != nil {
				t.Error(r, err)
				continue
			}
			temp.See(back.T-T, at)
		}
		p.Within(t, id+" p", tolRel, demanded)
		rho.Within(t, id+" ρ", tolRel, demanded)
		h.Within(t, id+" h", tolH, demanded)
		s.Within(t, id+" s", tolS, demanded)
		cp.Within(t, id+" cp", tolRel, demanded)
		w.Within(t, id+" w", tolRel, demanded)
		temp.Within(t, id+" T back from p", tolT, demanded)
	}
}

func TestSinglePhaseTable(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		var rho, h, s, c, w reftest.Worst
		for _, r := range reftest.ReadTable(t, "eos/ph_"+id+".csv").Rows() {
			st, err := f.PT(r.Num("p_Pa"), r.Num("T_K"))
			if err != nil {
				t.Error(r, err)
				continue
			}
			if want := map[string]refrig.Phase{"V": refrig.Vapour, "L": refrig.Liquid}[r.Text("phase")]; st.Phase != want {
				t.Errorf("%v: %v, want %v", r, st.Phase, want)
			}
			x, at := f.At(st.T, st.Rho), r.String()
			rho.See(rel(st.Rho, r.Num("rho_kg_m3")), at)
			h.See(st.H-r.Num("h_J_kg"), at)
			s.See(st.S-r.Num("s_J_kgK"), at)
			c.See(rel(x.Cp, r.Num("cp_J_kgK")), at)
			c.See(rel(x.Cv, r.Num("cv_J_kgK")), at)
			w.See(rel(x.W, r.Num("w_m_s")), at)
		}
		rho.Within(t, id+" ρ", tolRel, demanded)
		h.Within(t, id+" h", tolH, demanded)
		s.Within(t, id+" s", tolS, demanded)
		c.Within(t, id+" cp, cv", tolRel, demanded)
		w.Within(t, id+" w", tolRel, demanded)
	}
}

func TestFlashTables(t *testing.T) {
	region := map[string]refrig.Phase{"V": refrig.Vapour, "L": refrig.Liquid, "2": refrig.TwoPhase, "S": refrig.Supercritical}
	for _, id := range IDs() {
		f := load(t, id)
		for _, c := range []struct {
			table, given, other string
			flash               func(p, v float64) (refrig.State, error)
			value               func(refrig.State) float64
			tol                 float64
		}{
			{"flash_ph_", "h_J_kg", "s_J_kgK", f.PH, func(s refrig.State) float64 { return s.S }, tolS},
			{"flash_ps_", "s_J_kgK", "h_J_kg", f.PS, func(s refrig.State) float64 { return s.H }, tolH},
		} {
			var temp, rho, other, q reftest.Worst
			for _, r := range reftest.ReadTable(t, "eos/"+c.table+id+".csv").Rows() {
				s, err := c.flash(r.Num("p_Pa"), r.Num(c.given))
				if err != nil {
					t.Error(r, err)
					continue
				}
				if s.Phase != region[r.Text("region")] {
					t.Errorf("%v: %v, want %s", r, s.Phase, r.Text("region"))
				}
				at := r.String()
				temp.See(s.T-r.Num("T_K"), at)
				rho.See(rel(s.Rho, r.Num("rho_kg_m3")), at)
				other.See(c.value(s)-r.Num(c.other), at)
				if want := r.Num("q"); !math.IsNaN(want) {
					q.See(s.Quality-want, at)
				}
			}
			what := c.table + id
			temp.Within(t, what+" T", tolT, demanded)
			rho.Within(t, what+" ρ", tolRel, demanded)
			other.Within(t, what+" "+c.other, c.tol, demanded)
			q.Within(t, what+" q", 1e-8, "ten printed digits of h and q")
		}
	}
}

func TestLookalikeTables(t *testing.T) {
	for _, id := range LookalikeIDs() {
		var p reftest.Worst
		for _, r := range reftest.ReadTable(t, "eos/psat_"+id+".csv").Rows() {
			got, err := LookalikePSat(id, r.Num("T_K"))
			if err != nil {
				t.Error(r, err)
			}
			p.See(rel(got, r.Num("p_Pa")), r.String())
		}
		l, err := findLookalike(id)
		if err != nil {
			t.Fatal(err)
		}
		p.Within(t, id+" p", l.MaxErr, "error stated in the file")
		p.Within(t, id+" p", 3e-5, "error stated in the documentation")
	}
}
