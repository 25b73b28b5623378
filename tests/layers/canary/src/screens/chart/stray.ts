import 'idb';
