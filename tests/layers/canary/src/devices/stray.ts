import '../worker/contract.ts';
