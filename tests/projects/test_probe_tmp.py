import pytest
from tests.factories import *
from projects import adapters
from django.test import Client

def P(*a): print("PROBE", *a)

def test_a(build, as_student, as_instructor, settings):
    url=f"/builds/{build.pk}/readings/"
    r=as_student.post(url, {"target":"stock:poplar34","point":1,"length":"0.9","instrument":"tape"}, headers={"HX-Request":"true"})
    P(r.status_code); html=r.content.decode(); i=html.find("instrument"); P(html[html.find("<fieldset"):html.find("</fieldset")])
    r=as_student.post(url, {"target":"distance:opening","point":1,"length":"34 17/32","instrument":"tape"})
    r=as_student.post(url, {"target":"distance:opening","point":2,"length":"34 1/2","instrument":"tape"})
    rows=list(build.readings.all()); P(adapters.readings_of(adapters.plan_of(build.revision), rows).facts)
    r=as_student.get(f"/builds/{build.pk}/sizes/shelf/length/", headers={"HX-Request":"true"}); P(r.headers)
    r=as_student.post(f"/builds/{build.pk}/readings/set-aside/", {"target":"stock:ply14","point":3}); P("aside nothing", r.status_code, build.readings.count())

def test_broken(build, as_student, as_instructor):
    from projects.models import Reading
    from fractions import Fraction
    from django.utils import timezone
    Reading.objects.create(build=build,target="stock:poplar34",point=1,typed="400 in",mm=Fraction(400*254,10),unit="in",instrument="tape",at=timezone.now(),by=build.student)
    for u in ("", "readings/", "cut-sheet/"):
        try: P(u, as_student.get(f"/builds/{build.pk}/{u}").status_code)
        except Exception as e: P(u, "RAISED", type(e), e)
    P(as_instructor.get(f"/classes/{build.shop_class_id}/").status_code)

def test_lock(student):
    c=Client()
    codes=[]
    names=["student-%d"%0]
    n=student.username
    for i in range(20):
        name="".join(ch.upper() if (i>>k)&1 else ch for k,ch in enumerate(n))
        codes.append(c.post("/sign-in/", {"username":name,"password":"x"}).status_code)
    P(codes)
    codes=[c.post("/sign-in/", {"username":n,"password":"x"}).status_code for _ in range(10)]; P(codes)

def test_bom(as_instructor, instructor):
    from django.core.files.uploadedfile import SimpleUploadedFile as S
    data=b"\xef\xbb\xbf"+plan_bytes().replace(b"\n", b"\r\n")
    r=as_instructor.post("/plans/", {"file":S("a.json",data)}); P(r.status_code, r.headers.get("Location"))
    g=as_instructor.get(r.headers["Location"]+"revisions/1.json").content; P(g==data, g[:3], len(g), len(data))
    r=as_instructor.post("/plans/", {}); P("empty post", r.status_code)
    r=as_instructor.post("/classes/new/", {}); P("empty post class", r.status_code)
    d=plan_data(); d["title"]="a\\ud800".encode().decode("unicode_escape")
    import json
    r=as_instructor.post("/plans/", {"file":S("a.json",json.dumps(d).encode())}); P("surrogate", r.status_code)
    r=as_instructor.post("/classes/new/", {"title":"X","revision":instructor.plans.first().revisions.first().pk,"roster":"Ana\u200fx\nBo"}); P(r.status_code, r.headers); 
    r=as_instructor.post("/classes/new/", {"title":"X","revision":instructor.plans.first().revisions.first().pk,"roster":"Ana\nBo"}); P(r.status_code, r.headers)
