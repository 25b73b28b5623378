import '../screens/target.ts';
