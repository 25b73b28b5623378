import 'rxjs';
