import '../../screens/target.ts';
