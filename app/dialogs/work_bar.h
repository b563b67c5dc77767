// SPDX-License-Identifier: GPL-3.0-or-later
// Progress of long work with a way to stop it. The work runs on the window's thread, because the
// project belongs to that thread; the bar lets events through at every step, and while it does so
// only its own Stop button, the Escape key and the windows' painting react: clicks, keys and
// shortcuts elsewhere are dropped, and a window that is told to close stays and says why.
#pragma once

#include "core/common/progress.h"

#include <QElapsedTimer>
#include <QList>
#include <QWidget>

class QLabel;
class QProgressBar;
class QPushButton;

namespace keyround {

class WorkBar final : public QWidget
{
    Q_OBJECT
public:
    /// Work that is done before `patience` ms are over shows no bar.
    explicit WorkBar(QWidget *parent = nullptr, int patience = 0);

    /// Shows the bar, runs the work with a progress to report to, hides the bar. `others` are
    /// disabled meanwhile, so that nothing is changed under the work.
    template <typename Work> auto run(const QList<QWidget *> &others, Work work)
    {
        begin(others);
        auto result =
            work(Progress([this](double done, const QString &what) { return step(done, what); }));
        end();
        return result;
    }

    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    void begin(const QList<QWidget *> &others);
    void appear();
    [[nodiscard]] bool step(double done, const QString &what);
    void end();

    QLabel *m_what;
    QLabel *m_refusal;
    QProgressBar *m_bar;
    QPushButton *m_stop;
    int m_patience;
    QList<QWidget *> m_others;
    QElapsedTimer m_sinceShown;
    bool m_isShown = false;
    bool m_stopped = false;
};

} // namespace keyround
