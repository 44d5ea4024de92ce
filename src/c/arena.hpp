#pragma once
/// @file
/// Memory that a caller handed over, and lists in it. Nothing is given back but all that came after
/// a mark.

#include <cstddef>
#include <memory>
#include <new>
#include <type_traits>

namespace keyhour::c {

class Arena {
public:
    Arena(void* memory, std::size_t bytes) noexcept
        : next_{static_cast<std::byte*>(memory)}, end_{next_ + bytes} {}

    /// Null, for ever after, once there is too little.
    [[nodiscard]] void* take(std::size_t bytes, std::size_t alignment) noexcept {
        void* at = next_;
        std::size_t left = static_cast<std::size_t>(end_ - next_);
        if (is_exhausted_ || !std::align(alignment, bytes, at, left)) {
            is_exhausted_ = true;
            return nullptr;
        }
        next_ = static_cast<std::byte*>(at) + bytes;
        return at;
    }
    template <class T>
    [[nodiscard]] T* take_for(std::size_t n) noexcept {
        return static_cast<T*>(take(n * sizeof(T), alignof(T)));
    }
    /// Lets the last piece grow in place. @param end  of that piece
    [[nodiscard]] bool extend(const void* end, std::size_t bytes) noexcept {
        if (is_exhausted_ || end != next_ || static_cast<std::size_t>(end_ - next_) < bytes)
            return false;
        next_ += bytes;
        return true;
    }
    [[nodiscard]] bool is_exhausted() const noexcept { return is_exhausted_; }
    [[nodiscard]] const std::byte* next() const noexcept { return next_; }

private:
    std::byte *next_, *end_;
    bool is_exhausted_ = false;
};

/// Gives back, at the end of its scope, what was taken since its beginning.
class ArenaScope {
public:
    explicit ArenaScope(Arena& arena) noexcept : arena_{arena}, before_{arena} {}
    ArenaScope(const ArenaScope&) = delete;
    ArenaScope& operator=(const ArenaScope&) = delete;
    ~ArenaScope() { arena_ = before_; }

private:
    Arena& arena_;
    Arena before_;
};

/// Grows in an arena; what is pushed after the arena is exhausted is lost, which the arena knows.
/// Copies share their elements.
template <class T>
class ArenaList {
    static_assert(std::is_trivially_destructible_v<T>);

public:
    explicit ArenaList(Arena* arena) noexcept : arena_{arena} {}

    void push_back(const T& value) noexcept {
        if (size_ == capacity_ && !grow()) return;
        ::new (static_cast<void*>(data_ + size_)) T(value);
        ++size_;
    }
    void reserve(std::size_t n) noexcept {
        if (n > capacity_) (void)move_to(n);
    }
    void clear() noexcept { size_ = 0; }
    [[nodiscard]] bool empty() const noexcept { return size_ == 0; }
    [[nodiscard]] std::size_t size() const noexcept { return size_; }
    [[nodiscard]] const T* data() const noexcept { return data_; }
    [[nodiscard]] const T* begin() const noexcept { return data_; }
    [[nodiscard]] const T* end() const noexcept { return data_ + size_; }
    [[nodiscard]] T& back() noexcept { return data_[size_ - 1]; }
    [[nodiscard]] const T& operator[](std::size_t i) const noexcept { return data_[i]; }
    [[nodiscard]] T& operator[](std::size_t i) noexcept { return data_[i]; }

private:
    [[nodiscard]] bool grow() noexcept {
        if (data_ && arena_->extend(data_ + capacity_, sizeof(T))) {
            ++capacity_;
            return true;
        }
        return move_to(capacity_ == 0 ? 1 : 2 * capacity_);
    }
    [[nodiscard]] bool move_to(std::size_t wanted) noexcept {
        T* const larger = arena_->take_for<T>(wanted);
        if (!larger) return false;
        for (std::size_t i = 0; i < size_; ++i)
            ::new (static_cast<void*>(larger + i)) T(data_[i]);
        data_ = larger;
        capacity_ = wanted;
        return true;
    }

    Arena* arena_;
    T* data_ = nullptr;
    std::size_t size_ = 0, capacity_ = 0;
};

}  // namespace keyhour::c
