# SPDX-License-Identifier: MIT
# Test programs that are not unit tests.
add_executable(properties tests/properties/properties.c tests/properties/world.c)
target_include_directories(properties PRIVATE tests/properties)
target_link_libraries(properties PRIVATE ew_planner ew_rulebook ew_compute ew_model ew_base m)

add_executable(companies tests/properties/companies.c tests/properties/firm.c
                         tests/properties/world.c)
target_include_directories(companies PRIVATE tests/properties)
target_link_libraries(companies PRIVATE ew_planner ew_rulebook ew_compute ew_model ew_base m)

add_executable(bench_plan EXCLUDE_FROM_ALL tests/bench/bench_plan.c)
target_link_libraries(bench_plan PRIVATE ew_planner ew_rulebook ew_compute ew_model ew_base m)

add_executable(bench_crews EXCLUDE_FROM_ALL tests/bench/crews.c)
target_link_libraries(bench_crews PRIVATE ew_planner ew_rulebook ew_sequence ew_compute ew_model ew_base m)

add_executable(bench_sequence EXCLUDE_FROM_ALL tests/bench/sequence.c) # tests/bench/sequence runs it
target_link_libraries(bench_sequence PRIVATE ew_sequence ew_base m)

add_executable(bench_diurnal EXCLUDE_FROM_ALL tests/bench/diurnal.c)
target_link_libraries(bench_diurnal PRIVATE ew_weather ew_rulebook ew_compute ew_model ew_base m)

add_executable(calibrate tests/bench/calibrate.c) # tests/bench/calibrate runs it
target_link_libraries(calibrate PRIVATE ew_planner ew_weather ew_rulebook ew_compute ew_model ew_base m)

add_executable(bench_outlook EXCLUDE_FROM_ALL tests/bench/outlook.c) # tests/bench/outlook runs it
target_link_libraries(bench_outlook PRIVATE ew_planner ew_rulebook ew_compute ew_model ew_base m)

add_executable(bench_import EXCLUDE_FROM_ALL tests/bench/import.c)
target_link_libraries(bench_import PRIVATE ew_weather ew_compute ew_model ew_base m)

# With clang: cmake -DCMAKE_C_COMPILER=clang -DFUZZ=ON "-DSANITIZE=address;undefined", then
# ./fuzz_case -max_len=20000 a-folder-of-its-own tests/fuzz/corpus
if(FUZZ)
  add_executable(fuzz_case tests/fuzz/fuzz_case.c)
  target_compile_definitions(fuzz_case PRIVATE PROJECT_ROOT="${CMAKE_SOURCE_DIR}")
  target_compile_options(fuzz_case PRIVATE -fsanitize=fuzzer)
  target_link_options(fuzz_case PRIVATE -fsanitize=fuzzer)
  foreach(library intake views planner rulebook compute model base)
    if(TARGET ew_${library})
      target_compile_options(ew_${library} PRIVATE -fsanitize=fuzzer-no-link)
    endif()
    target_link_libraries(fuzz_case PRIVATE ew_${library})
  endforeach()
endif()
