import http from 'node:http'; import {readFileSync} from 'node:fs';
import { launchChromium } from '/work/main/tests/browser/launch.ts'; import { findChromium } from '/work/main/tests/browser/find-chromium.ts';
const server=http.createServer((q,r)=>{ const u=q.url==='/'?null:q.url; r.setHeader('content-type', u?'text/javascript':'text/html'); try{ r.end(u?readFileSync('/tmp/smoke'+u):'<!doctype html><title>x</title>'); }catch{ r.statusCode=404; r.end(); } }).listen(4999);
import {chromium} from 'playwright-core'; import {rmSync} from 'node:fs'; rmSync('/tmp/smoke/profile',{recursive:true,force:true}); const browser=process.env.INC? await (await launchChromium(findChromium()!)).newContext() : await chromium.launchPersistentContext('/tmp/smoke/profile',{executablePath:findChromium()!,args:['--no-sandbox','--disable-gpu']}); const ctx=browser; const page=await ctx.newPage(); page.on('console',m=>console.log('console',m.text())); page.on('pageerror',e=>console.log('pageerror',e.message));
await page.addInitScript('globalThis.__name=f=>f'); await page.goto('http://localhost:4999/');
const scenario = async (phase:string)=>{
  const w=new Worker('/worker.js',{type:'module'}); const got:any[]=[]; let wake:()=>void=()=>{};
  w.onmessage=(e)=>{got.push(e.data); wake();}; w.onerror=(e)=>{got.push({type:'error',m:e.message});wake();};
  const until=async(t:string,n=1)=>{ const t0=performance.now(); while(got.filter(g=>g.type===t).length<n){ if(performance.now()-t0>20000) throw new Error('no '+t+': '+JSON.stringify(got.slice(-3)).slice(0,500)); await new Promise<void>(r=>{wake=r; setTimeout(r,200);}); } return got.filter(g=>g.type===t).at(-1); };
  const out:any={};
  if(phase==='record'||phase==='crash'){
    await import('/simulate.js' as string); const {records,description}=globalThis as any;
    const d={...description,setId:phase==='crash'?'smoke-crash':'smoke-1'};
    w.postMessage({type:'begin-set',description:d}); await until('set-begun');
    const t0=performance.now();
    for(let i=0;i<records.length;i+=3) w.postMessage({type:'append',records:records.slice(i,i+3)});
    if(phase==='crash'){ await until('recorded',5); w.terminate(); return {recorded:got.filter(g=>g.type==='recorded').at(-1)}; }
    w.postMessage({type:'list-sets'}); out.whileRunning=(await until('sets')).sets;
    w.postMessage({type:'end-set'}); await until('set-ended'); out.ms=performance.now()-t0; out.n=records.length;
    out.recorded=got.filter(g=>g.type==='recorded').at(-1); out.live=got.filter(g=>g.type==='live').length;
    w.postMessage({type:'begin-set',description:d}); await until('trouble'); await until('set-begun',2);
  } else {
    w.postMessage({type:'list-sets'}); out.sets=(await until('sets')).sets;
    for(const s of out.sets){ w.postMessage({type:'open-set',setId:s.setId}); }
    await until('opened-set',out.sets.length);
    out.opened=got.filter(g=>g.type==='opened-set').map(g=>[g.description.setId,g.view.swings.length,g.view.funnel.n]);
    w.postMessage({type:'export-set',setId:'smoke-1'}); const f=await until('set-file'); out.file=[f.fileName,f.bytes.length];
  }
  out.trouble=got.filter(g=>g.type==='trouble'||g.type==='error'); w.terminate(); return out;
};
for(const p of ['record','crash','read']){ console.log(p, JSON.stringify(await page.evaluate(scenario as any,p),null,1)); await page.waitForTimeout(300); if(p!=='crash') await page.goto('http://localhost:4999/'); }
const look=()=>page.evaluate(async()=>{const r=await navigator.storage.getDirectory(); const d=await r.getDirectoryHandle('sets'); const out:any[]=[]; for await(const [n,h] of (d as any).entries()) out.push([n,(await h.getFile()).size]); return JSON.stringify([out,(await navigator.locks.query()).held])});
console.log('look',await look());
// IndexedDB row loss
await page.evaluate(()=>new Promise(r=>{const q=indexedDB.deleteDatabase('reach-funnel'); q.onsuccess=()=>r(0);}));
console.log('after losing catalogue', JSON.stringify(await page.evaluate(scenario as any,'read')));
await browser.close(); server.close();
